/** Places of one end of joint work on one day, cheapest first. */

const MOST = 64;

export class Shortlist {
  count = 0;
  readonly cost = new Float64Array(MOST);
  readonly crew = new Int32Array(MOST);
  readonly after = new Int32Array(MOST);
  readonly earliest = new Int32Array(MOST);

  offer(cost: number, crew: number, after: number, earliest: number): void {
    let i = this.count;
    if (i === MOST) {
      if (cost >= this.cost[--i]!) return;
    } else this.count++;
    for (; i > 0 && this.cost[i - 1]! > cost; i--) this.move(i - 1, i);
    this.cost[i] = cost;
    this.crew[i] = crew;
    this.after[i] = after;
    this.earliest[i] = earliest;
  }

  move(from: number, to: number): void {
    this.cost[to] = this.cost[from]!;
    this.crew[to] = this.crew[from]!;
    this.after[to] = this.after[from]!;
    this.earliest[to] = this.earliest[from]!;
  }
}
