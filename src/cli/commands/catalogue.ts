import { catalogue as cards, cardsCalled, cardText, catalogueText, unknownAlteration } from '../../job/catalogue.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ShowingOptions } from '../options.ts';

export const catalogue = async (name: string | undefined, options: ShowingOptions, io: Io): Promise<number> => {
  const chosen = name === undefined ? cards : cardsCalled(name);
  if (name !== undefined && chosen.length === 0) {
    findingPrinter(io)([unknownAlteration(name)]);
    return 2;
  }
  if (options.json) io.out(`${JSON.stringify(chosen, null, 2)}\n`);
  else if (name === undefined) io.out(catalogueText());
  else for (const card of chosen) io.out(cardText(card, lengthShown(options.show, 'mm')));
  return 0;
};
