/** The best place found so far; one object is reused. For joint work the second crew stands beside it. */
export class Spot {
  cost = Number.POSITIVE_INFINITY;
  crew = -1;
  day = -1;
  /** Behind which visit of the day's list; -1 = first. */
  after = -1;
  otherCrew = -1;
  otherAfter = -1;
  atMin = -1;
  untilMin = -1;

  clear(): void {
    this.cost = Number.POSITIVE_INFINITY;
    this.crew = -1;
  }

  set(cost: number, crew: number, day: number, after: number): void {
    this.cost = cost;
    this.crew = crew;
    this.day = day;
    this.after = after;
  }

  setJoint(otherCrew: number, otherAfter: number, atMin: number, untilMin: number): void {
    this.otherCrew = otherCrew;
    this.otherAfter = otherAfter;
    this.atMin = atMin;
    this.untilMin = untilMin;
  }
}
