import { Ajv2020 } from 'ajv/dist/2020.js';
import schema from '../../../schema/machine.schema.json' with { type: 'json' };
import { MACHINES } from '../../layout/machines.ts';

/** What is wrong with a machine file, by its schema, in words; nothing when it can be used. */
export const checkMachine = (value: unknown): string[] => {
  const validate = new Ajv2020({ allErrors: true, strictTypes: false, allowUnionTypes: true }).compile(schema);
  if (!validate(value)) {
    return (validate.errors ?? []).map((e) => {
      const place = e.instancePath === '' ? 'The file' : `“${e.instancePath.slice(1).replaceAll('/', ' ')}”`;
      const what = e.params.additionalProperty ?? e.params.allowedValues?.join(', ');
      return `${place} ${e.message ?? 'is wrong'}${what === undefined ? '' : `: ${what}`}.`;
    });
  }
  const { like } = value as { like: string };
  const names = MACHINES.map((m) => m.name);
  return names.includes(like) ? [] : [`It is like “${like}”, which is none of ${names.join(', ')}.`];
};
