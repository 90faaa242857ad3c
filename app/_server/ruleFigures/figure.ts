/** What a figure of rule data is: where it stands, what it may be, where it comes from. */

export type FigureValue = number | string | boolean | null;

export interface Figure {
  /** Where it stands in the stored body, e.g. `limits.climb.windMaxMs`. */
  path: string;
  label: string;
  unit: string;
  kind: "number" | "choice" | "yes/no";
  /** For a choice: what it may be, with its words. */
  choices?: readonly { value: string; label: string }[];
  min?: number;
  max?: number;
  isWhole?: boolean;
  /** null means that there is no such limit. */
  isOptional?: boolean;
  value: FigureValue;
  delivered: FigureValue;
  source: string;
}

export interface FigureGroup {
  id: string;
  title: string;
  note?: string;
  figures: readonly Figure[];
}

/** A figure without its values: what each subject's file lists. */
export type Spec = Omit<Figure, "value" | "delivered" | "kind"> & Partial<Pick<Figure, "kind">>;

export type SpecGroup = Omit<FigureGroup, "figures"> & { figures: readonly Spec[] };

/** Source of what only the company's own records can settle. */
export const CALIBRATE = "from memory, common practice: calibrate";
