/** Why the program takes a line for what it takes it: one sentence a person can check against the drawing. */
export interface Evidence {
  readonly says: string;
  /** 0 (a hint) to 1 (stated by the file or the pattern sheet). */
  readonly weight: number;
}

export interface Judged {
  readonly evidence: readonly Evidence[];
  /** 0 to 1; 1 when stated by file or sheet. */
  readonly confidence: number;
}
