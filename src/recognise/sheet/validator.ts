import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import schema from '../../../schema/pattern-sheet.schema.json' with { type: 'json' };
import options from './ajv-options.json' with { type: 'json' };

/**
 * Holds a sheet to the published JSON Schema. In what is built, the code that Ajv makes of the schema stands in the place of
 * this file (scripts/build.mjs): a start then needs neither to make it nor to load Ajv.
 */
export const validate: ValidateFunction = new Ajv2020(options).compile(schema);
