/**
 * What the exact method asks of a solver for linear programs, and the wrapper that gives it a loaded HiGHS.
 *
 * The wrapper is pure: it works on the module that it is given. Whoever calls (the worker, a bench, a test) loads it
 * (`await loadHighs()`), so lib starts nothing and waits for nothing.
 */
import type { Highs, Model } from "highs";

/** A column to add: its cost, and its coefficient in each row it touches. It may lie between 0 and infinity. */
export interface LinearColumn {
  cost: number;
  rows: readonly number[];
  values: readonly number[];
}

export interface LinearSolution {
  value: number;
  /** One value a column. */
  columns: Float64Array;
  /** One dual value a row. */
  duals: Float64Array;
}

/** A kept model: least cost, rows between bounds. Solved again from where it stood after each change. */
export interface LinearModel {
  addColumns(columns: readonly LinearColumn[]): void;
  setRow(row: number, lower: number, upper: number): void;
  /** Adds a row over columns that are there. */
  addRow(row: { lower: number; upper: number; columns: readonly number[]; values: readonly number[] }): void;
  /** Largest value of a column; 0 shuts it. */
  setColumnUpper(column: number, upper: number): void;
  /** undefined when there is no optimum (infeasible, or the solver gave up). */
  solve(): LinearSolution | undefined;
  /** The best whole-numbered solution found within the limits, one value a column; undefined when there was none. */
  solveWhole(limits: WholeLimits): Float64Array | undefined;
  dispose(): void;
}

export interface WholeLimits {
  /** Most seconds by the solver's own clock. */
  seconds: number;
  /** A solution with this value is good enough to stop at. */
  enough: number;
  /** A solution above this value is not wanted. */
  most: number;
}

export interface LinearSolver {
  /** @param rows bounds of each row; the model has no columns yet */
  createModel(rows: readonly { lower: number; upper: number }[]): LinearModel;
}

const OPTIMAL = 7;

/** A loaded HiGHS as the solver of this folder. */
export function highsSolver(highs: Highs): LinearSolver {
  return { createModel: (rows) => new HighsModel(highs, rows) };
}

/** A class because it owns a model in the solver's memory until it is disposed of. */
class HighsModel implements LinearModel {
  readonly #highs: Highs;
  readonly #model: Model;
  #rowCount: number;
  #columnCount = 0;
  /** Bounds changed since the last solve: the basis is dual feasible, so the dual simplex goes on from it. */
  #haveBoundsChanged = true;

  constructor(highs: Highs, rows: readonly { lower: number; upper: number }[]) {
    this.#highs = highs;
    this.#rowCount = rows.length;
    this.#model = highs.createModel({
      numCols: 0,
      numRows: rows.length,
      colCost: [],
      colLower: [],
      colUpper: [],
      rowLower: rows.map((row) => row.lower),
      rowUpper: rows.map((row) => row.upper),
      matrix: { format: "csc", numRows: rows.length, numCols: 0, starts: [0], indices: [], values: [] },
    });
    this.#model.options.set({ output_flag: false, presolve: "off" });
  }

  addColumns(columns: readonly LinearColumn[]): void {
    if (columns.length === 0) return;
    const starts = [0];
    for (const column of columns) starts.push(starts.at(-1)! + column.rows.length);
    this.#model.addCols({
      cost: Float64Array.from(columns, (column) => column.cost),
      lower: new Float64Array(columns.length),
      upper: new Float64Array(columns.length).fill(Number.POSITIVE_INFINITY),
      matrix: {
        format: "csc",
        numRows: this.#rowCount,
        numCols: columns.length,
        starts: Int32Array.from(starts),
        indices: Int32Array.from(columns.flatMap((column) => [...column.rows])),
        values: Float64Array.from(columns.flatMap((column) => [...column.values])),
      },
    });
    this.#columnCount += columns.length;
  }

  addRow({ lower, upper, columns, values }: Parameters<LinearModel["addRow"]>[0]): void {
    this.#model.addRow(lower, upper, { indices: [...columns], values: [...values] });
    this.#rowCount++;
    this.#haveBoundsChanged = true;
  }

  setRow(row: number, lower: number, upper: number): void {
    this.#model.changeRowBounds(row, lower, upper);
    this.#haveBoundsChanged = true;
  }

  setColumnUpper(column: number, upper: number): void {
    this.#model.changeColBounds(column, 0, upper);
    this.#haveBoundsChanged = true;
  }

  solve(): LinearSolution | undefined {
    this.#model.options.set({ simplex_strategy: this.#haveBoundsChanged ? 1 : 4 });
    this.#model.run();
    this.#haveBoundsChanged = false;
    if (this.#model.getModelStatus() !== OPTIMAL) return undefined;
    const { colValue, rowDual } = this.#model.getSolution();
    return { value: this.#model.getObjectiveValue(), columns: colValue, duals: rowDual };
  }

  solveWhole({ seconds, enough, most }: WholeLimits): Float64Array | undefined {
    // In a model of its own: cuts and branching leave the kept basis alone.
    const copy = this.#highs.createModel(this.#model.getModel());
    try {
      copy.options.set({
        output_flag: false,
        time_limit: seconds,
        objective_bound: most + 0.5, // values are whole
        objective_target: enough,
      });
      const whole = new Int32Array(this.#columnCount).fill(1);
      copy.changeColsIntegrality({ kind: "range", from: 0, to: this.#columnCount - 1 }, whole);
      copy.run();
      if (copy.info.get("primal_solution_status") !== 2) return undefined;
      return copy.getSolution().colValue;
    } finally {
      copy.dispose();
    }
  }

  dispose(): void {
    this.#model.dispose();
  }
}
