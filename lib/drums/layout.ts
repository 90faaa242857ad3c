/**
 * A cutting plan under edit: which runs lie on which drum, with loads kept up to date.
 * A class because its state changes through a run of the improvement; everything that leaves it is a plain `Assignment`.
 */
import { type Assignment, dayFor, isSent, type PackingProblem, type Stock } from "./packing";

export class Layout {
  readonly problem: PackingProblem;
  readonly stocks: Stock[] = [];
  /** Kind of each bought drum; -1 on hand. */
  readonly kindOf: number[] = [];
  readonly loads: number[] = [];
  readonly runs: number[][] = [];
  /** Drums on which runs may be put. A bought drum that was given up is closed. */
  readonly isOpen: boolean[] = [];
  readonly drumOf: number[];

  constructor(problem: PackingProblem) {
    this.problem = problem;
    this.drumOf = new Array<number>(problem.sizesCm.length).fill(-1);
    for (const stock of problem.onHand) this.#add(stock, -1);
  }

  static from(problem: PackingProblem, assignment: Assignment): Layout {
    const layout = new Layout(problem);
    for (const kind of assignment.bought) layout.buy(kind);
    for (const [run, drum] of assignment.drumOf.entries()) if (drum >= 0) layout.place(run, drum);
    return layout;
  }

  get drumCount(): number {
    return this.stocks.length;
  }

  #add(stock: Stock, kind: number): number {
    this.stocks.push(stock);
    this.kindOf.push(kind);
    this.loads.push(0);
    this.runs.push([]);
    this.isOpen.push(true);
    return this.stocks.length - 1;
  }

  buy(kind: number): number {
    return this.#add(this.problem.kinds[kind]!, kind);
  }

  /** Takes every run off a bought drum and closes it. */
  giveUp(drum: number): number[] {
    const loose = [...this.runs[drum]!];
    for (const run of loose) this.take(run);
    this.isOpen[drum] = false;
    return loose;
  }

  freeCm(drum: number): number {
    return this.stocks[drum]!.capacityCm - this.loads[drum]!;
  }

  place(run: number, drum: number): void {
    this.drumOf[run] = drum;
    this.loads[drum]! += this.problem.sizesCm[run]!;
    this.runs[drum]!.push(run);
  }

  take(run: number): void {
    const drum = this.drumOf[run]!;
    if (drum < 0) return;
    const list = this.runs[drum]!;
    list.splice(list.indexOf(run), 1);
    this.loads[drum]! -= this.problem.sizesCm[run]!;
    this.drumOf[run] = -1;
  }

  move(run: number, drum: number): void {
    this.take(run);
    this.place(run, drum);
  }

  /** Day on which `run` would be where it is wanted if cut from `drum`; Infinity = never. */
  dayFor(run: number, drum: number): number {
    return dayFor(this.problem, this.stocks[drum]!, run);
  }

  /** Days that `run` would be late if cut from `drum`; 0 = in time. */
  lateDays(run: number, drum: number): number {
    return Math.max(0, this.dayFor(run, drum) - this.problem.needDays[run]!);
  }

  /** Would `run` be cut at another place than the one that wants it? */
  isSent(run: number, drum: number): boolean {
    return isSent(this.problem, this.stocks[drum]!, run);
  }

  /** The plan as data: empty bought drums are gone. */
  assignment(): Assignment {
    const bought: number[] = [];
    const newIndex = this.stocks.map((_, drum) => {
      if (this.kindOf[drum]! < 0) return drum;
      if (this.runs[drum]!.length === 0) return -1;
      bought.push(this.kindOf[drum]!);
      return this.problem.onHand.length + bought.length - 1;
    });
    return { drumOf: this.drumOf.map((drum) => (drum < 0 ? -1 : newIndex[drum]!)), bought };
  }
}
