import type { Finding } from '../finding.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Cloth } from '../pattern/piece.ts';

/** What is to be done for one fitting, and why. Made by `planFitting`, carried out by `alterPattern`. */
export interface Plan {
  readonly fitting: string;
  /** In the order of doing: lengths, then widths, then shape. */
  readonly steps: readonly PlannedStep[];
  readonly findings: readonly Finding[];
  /** What every measurement given has to come to on the pieces. */
  readonly targets?: readonly Target[];
}

/** What a measurement has to come to: its change, wherever the garment shows it. */
export interface Target {
  readonly measurement: string;
  /** The wearer's body, mm. */
  readonly wearer: number;
  /** Change the pattern needs, mm, what was asked for directly in the same place included. */
  readonly needed: number;
  /** Whether an alteration was chosen for it. Where other measurements decide, it is only looked at. */
  readonly decides: boolean;
  /** Where the garment shows it, as drafted: 'skirt', 'front'. Garment measure, mm. */
  readonly before: readonly { readonly of: string; readonly mm: number }[];
  /** The same after the plan, on paper; absent when nothing was altered on paper. */
  readonly after?: readonly { readonly of: string; readonly mm: number }[];
  /** What was asked for directly changes of it in single places, on purpose: not held against them. */
  readonly asides?: readonly Aside[];
}

/** What a step asked for directly gives one place that shows a measurement, mm, other than the rest. */
export interface Aside {
  /** Catalogue name: 'abdomen'. */
  readonly by: string;
  readonly of: string;
  readonly mm: number;
}

export interface PlannedStep {
  /** Name in the catalogue: 'waist', 'length at the hem'. */
  readonly alteration: string;
  /** Whole needed change, mm, signed as the alteration says. */
  readonly amount: number;
  /** What of it was asked for directly, on top of what a measurement needs, mm. */
  readonly besides?: number;
  readonly origin: Origin;
  readonly shares: readonly Share[];
  readonly options: Readonly<Record<string, string | number | boolean>>;
  /** One line of arithmetic a dressmaker follows. */
  readonly explanation: string;
}

export type Origin =
  | { readonly kind: 'measurement'; readonly measurement: string; readonly wearer: number; readonly draftedFor: number }
  | {
      readonly kind: 'ease';
      readonly measurement: string;
      readonly wearer: number;
      /** Ease asked for on top of the body, mm. */
      readonly ease: number;
      /** What the pattern measures there as drafted, mm. */
      readonly pattern: number;
      /** The rule that the ease comes from, where nobody asked for it. */
      readonly rule?: string;
    }
  | { readonly kind: 'direct'; readonly column: string };

/** What one place takes. `amount` is for one seam edge (or one dart), mm, signed like the whole. */
export interface Share {
  readonly piece: string;
  readonly edge?: string;
  readonly dart?: string;
  /** As the trade says it: 'side edge at the waist', 'waist dart', 'adjustment line'. */
  readonly place: string;
  readonly amount: number;
  /** Customary most for the place, mm; Infinity when the trade names none. */
  readonly most: number;
  readonly cloth: Cloth;
  /** How many such edges there are on one layer of cloth. */
  readonly counted: number;
}

/** What the wearer asks of the pattern. */
export interface Needs {
  readonly fitting: string;
  /** The wearer's body, mm, by canonical measurement name. */
  readonly measurements: Readonly<Record<string, number>>;
  /** Signed amounts asked for directly, mm, by catalogue name. */
  readonly direct: Readonly<Record<string, DirectAmount>>;
  /** Ease asked for in place of the design's, mm, by canonical measurement name. */
  readonly ease?: Readonly<Record<string, number>>;
}
export interface DirectAmount {
  readonly amount: number;
  /** As the user wrote it: 'full abdomen (mm)'. */
  readonly column: string;
}

export interface PlanOptions {
  readonly beyondLimits: boolean;
  /** Choices by catalogue name: { abdomen: { method: 'raise the waist' } }. */
  readonly choices: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly show: LengthShown;
}
export type LengthShown = 'in' | 'mm' | 'cm';

export interface AlterOptions {
  /** Mend faults that the pattern came with. */
  readonly true: boolean;
  /** Run the grainline through the whole piece. */
  readonly fullGrainline: boolean;
  /** How lengths are told in what was done; millimetres when left out. */
  readonly show?: LengthShown;
}

/** The pattern after all steps, with what each did. */
export interface Altered {
  readonly pattern: Pattern;
  readonly steps: readonly StepRecord[];
  /** What was done that no step asks for: to pieces that follow those they are sewn to, faults mended, grainlines run out. */
  readonly followed: readonly FollowRecord[];
  readonly findings: readonly Finding[];
  /** What edges are longer than their mates on purpose, more than they were, mm; by 'piece/edge'. */
  readonly eased: ReadonlyMap<string, number>;
}

export interface StepRecord {
  readonly step: PlannedStep;
  /** What the step did, in plain words: 'front side seam out ⅜ in at the hip'. */
  readonly did: readonly string[];
}

/** What was done to one piece that follows others: 'Waistband: 12.7 mm longer: +6.4 mm at each of its 2 notches'. */
export interface FollowRecord {
  readonly piece: string;
  readonly did: string;
}

/** What is published of an alteration: help, README table and `catalogue` are made from it. */
export interface AlterationCard {
  readonly name: string;
  readonly title: string;
  readonly synonyms: readonly Synonym[];
  readonly plus: string;
  readonly minus: string;
  readonly needs: readonly string[];
  /** Measurement that drives it, if any. */
  readonly measurement?: string;
  readonly options: readonly AlterationOption[];
  readonly limits: readonly { readonly place: string; readonly most: number; readonly source: string }[];
  readonly moves: readonly string[];
  readonly keeps: readonly string[];
  readonly additive: boolean;
  /** The construction, one paragraph, in the trade's words. */
  readonly construction: string;
  readonly source: string;
}
/** Another name of an alteration, and what it means there. */
export interface Synonym {
  readonly name: string;
  readonly sign: 1 | -1;
  /** Options that go with the name: a hollow chest is a tuck. */
  readonly options?: Readonly<Record<string, string>>;
}
export interface AlterationOption {
  readonly name: string;
  readonly means: string;
  readonly values: readonly string[] | 'mm' | 'count';
  readonly default: string;
}
