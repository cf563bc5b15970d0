import { cardPicture } from '../../job/catalogue/picture.ts';
import { catalogue as cards, cardsCalled, cardText, catalogueText, unknownAlteration } from '../../job/catalogue.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ShowingOptions } from '../options.ts';

export interface CatalogueOptions extends ShowingOptions {
  readonly svg?: boolean;
}

export const catalogue = async (name: string | undefined, options: CatalogueOptions, io: Io): Promise<number> => {
  const chosen = name === undefined ? cards : cardsCalled(name);
  if (name !== undefined && chosen.length === 0) {
    findingPrinter(io)([unknownAlteration(name)]);
    return 2;
  }
  if (options.svg) {
    if (chosen.length !== 1)
      return onePicture(
        chosen.map((c) => c.name),
        io,
      );
    for (const card of chosen) io.out(await cardPicture(card, lengthShown(options.show, 'mm')));
  } else if (options.json) io.out(`${JSON.stringify(chosen, null, 2)}\n`);
  else if (name === undefined) io.out(catalogueText());
  else for (const card of chosen) io.out(cardText(card, lengthShown(options.show, 'mm')));
  return 0;
};

/** A picture shows one alteration. */
const onePicture = (names: readonly string[], io: Io): number => {
  findingPrinter(io)([
    {
      code: 'job-option-unknown',
      level: 'error',
      where: {},
      message: '--svg draws one alteration.',
      try: `Name it: retrue catalogue "${names[0] ?? 'hip'}" --svg > picture.svg. All of them are drawn in docs/catalogue.`,
    },
  ]);
  return 2;
};
