/** A sheet of paper upright, mm. */
export interface PaperSize {
  readonly name: string;
  readonly width: number;
  readonly height: number;
}

/** A sizes as ISO 216 has them; Letter and Legal as ANSI/ASME Y14.1 and US trade have them, in inches. */
export const PAPER_SIZES: readonly PaperSize[] = [
  { name: 'A4', width: 210, height: 297 },
  { name: 'A3', width: 297, height: 420 },
  { name: 'A2', width: 420, height: 594 },
  { name: 'A1', width: 594, height: 841 },
  { name: 'A0', width: 841, height: 1189 },
  { name: 'Letter', width: 8.5 * 25.4, height: 11 * 25.4 },
  { name: 'Legal', width: 8.5 * 25.4, height: 14 * 25.4 },
  { name: 'Tabloid', width: 11 * 25.4, height: 17 * 25.4 },
];

export const paperCalled = (name: string): PaperSize | undefined =>
  PAPER_SIZES.find((p) => p.name.toLowerCase() === name.trim().toLowerCase());

export const landscape = ({ name, width, height }: PaperSize): PaperSize => ({ name, width: height, height: width });
