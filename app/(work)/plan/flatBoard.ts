/** Visits and crews of the board on their way to the browser: flat rows, packed as text. */
import type {
  BoardCrew,
  BoardDay,
  BoardVisit,
  KitState,
  ReportState,
  WeatherState,
} from "@/app/_ui/PlanBoard";
import { type PackedRows, unpackRows } from "@/app/_ui/packRows";

interface FlatVisit
  extends Omit<
    BoardVisit,
    "weather" | "kit" | "report" | "isPinned" | "isLate" | "isBeforeGate" | TextOrNull
  > {
  weatherState: WeatherState | null;
  weatherText: string | null;
  kitState: KitState | null;
  kitText: string | null;
  reportState: ReportState | null;
  reportText: string | null;
  isPinned: 0 | 1;
  isLate: 0 | 1;
  isBeforeGate: 0 | 1;
  part: number | null;
  crewShort: string | null;
  togetherId: string | null;
  rule: string | null;
  detail: string | null;
}

type TextOrNull = "part" | "crewShort" | "togetherId" | "rule" | "detail";

export function flatVisit({ weather, kit, report, ...v }: BoardVisit): FlatVisit {
  return {
    ...v,
    weatherState: weather?.state ?? null,
    weatherText: weather?.text ?? null,
    kitState: kit?.state ?? null,
    kitText: kit?.text ?? null,
    reportState: report?.state ?? null,
    reportText: report?.text ?? null,
    isPinned: v.isPinned ? 1 : 0,
    isLate: v.isLate ? 1 : 0,
    isBeforeGate: v.isBeforeGate ? 1 : 0,
    part: v.part ?? null,
    crewShort: v.crewShort ?? null,
    togetherId: v.togetherId ?? null,
    rule: v.rule ?? null,
    detail: v.detail ?? null,
  };
}

export function visitsFromJson(json: string): BoardVisit[] {
  return unpackRows<FlatVisit>(JSON.parse(json) as PackedRows).map(
    ({ weatherState, weatherText, kitState, kitText, reportState, reportText, ...v }) => ({
      ...v,
      weather: weatherState === null ? undefined : { state: weatherState, text: weatherText ?? "" },
      kit: kitState === null ? undefined : { state: kitState, text: kitText ?? "" },
      report: reportState === null ? undefined : { state: reportState, text: reportText ?? "" },
      isPinned: v.isPinned === 1,
      isLate: v.isLate === 1,
      isBeforeGate: v.isBeforeGate === 1,
      part: v.part ?? undefined,
      crewShort: v.crewShort ?? undefined,
      togetherId: v.togetherId ?? undefined,
      rule: v.rule ?? undefined,
      detail: v.detail ?? undefined,
    }),
  );
}

interface FlatCrews {
  /** The few kinds of days there are. */
  days: readonly BoardDay[];
  /** `dayKinds`: index into `days`, one a day. */
  crews: readonly (Omit<BoardCrew, "days"> & { dayKinds: readonly number[] })[];
}

export function crewsToJson(crews: readonly BoardCrew[]): string {
  const kinds = new Map<string, number>();
  const days: BoardDay[] = [];
  const kindOf = (day: BoardDay): number => {
    const key = `${day.works} ${day.why ?? ""}`;
    const known = kinds.get(key);
    if (known !== undefined) return known;
    kinds.set(key, days.length);
    return days.push(day) - 1;
  };
  const flat: FlatCrews = {
    days,
    crews: crews.map(({ days: own, ...crew }) => ({ ...crew, dayKinds: own.map(kindOf) })),
  };
  return JSON.stringify(flat);
}

export function crewsFromJson(json: string): BoardCrew[] {
  const { days, crews } = JSON.parse(json) as FlatCrews;
  return crews.map(({ dayKinds, ...crew }) => ({ ...crew, days: dayKinds.map((kind) => days[kind]!) }));
}
