/** Shown wherever children's figures come up. The law is given from general knowledge; local codes come first. */
export const CHILDREN_CAUTION =
  "Children's wear: cords and drawstrings are regulated (16 CFR 1120, ASTM F1816, EN 14682), and tight-fitting sleepwear has largest dimensions (16 CFR 1615, 1616). Local codes come first.";
