import type { CalendarDate } from "@/lib/time";
import { DEFAULT_LOCALE, formatAmount, formatCm, formatDate, formatNumber } from "./format";
import { ScrollRegion } from "./ScrollRegion";
import { CAUTION } from "./Shell";

export interface PickLine {
  itemCode: string;
  name: string;
  quantity: number;
  unit: string;
  /** Where to take it from: bin, serial number, drum. */
  from?: string;
  note?: string;
}

export interface PickCut {
  drumSerial: string;
  cableCode: string;
  runLabel: string;
  lengthCm: number;
  fromMarkCm: number;
  toMarkCm: number;
}

export interface PickSheetProps {
  kitCode: string;
  hopCode: string;
  /** "near end" or "far end". */
  end: string;
  siteCode: string;
  siteName: string;
  crewCode?: string;
  depot: string;
  neededOn: CalendarDate;
  lines: readonly PickLine[];
  cuts: readonly PickCut[];
  /** Whole kit, kg; and the heaviest single piece. */
  massKg: number;
  heaviestKg?: number;
  cautions?: readonly string[];
  /** Line at the foot: who made it and when. */
  madeBy?: string;
  locale?: string;
}

/** A sheet to take to the shelf: one kit, boxes to tick, cuts with marks, names to sign. Prints on A4 and Letter. */
export function PickSheet(props: PickSheetProps) {
  const { lines, cuts, cautions = [], locale = DEFAULT_LOCALE } = props;
  const facts: readonly [string, string][] = [
    ["Hop", `${props.hopCode}, ${props.end}`],
    ["Site", `${props.siteCode} ${props.siteName}`],
    ["Crew", props.crewCode ?? "not assigned"],
    ["Needed on", formatDate(props.neededOn, "full", locale)],
    ["Depot", props.depot],
    [
      "Mass",
      `${formatNumber(props.massKg, 0, locale)} kg${props.heaviestKg ? `, heaviest piece ${formatNumber(props.heaviestKg, 0, locale)} kg` : ""}`,
    ],
  ];
  return (
    <article className="ui-sheet">
      <header>
        <h2>Pick list {props.kitCode}</h2>
        <dl>
          {facts.map(([term, words]) => (
            <div key={term}>
              <dt>{term}</dt>
              <dd>{words}</dd>
            </div>
          ))}
        </dl>
      </header>
      <ScrollRegion label="Items">
        <table className="ui-facts">
          <caption>Items</caption>
          <thead>
            <tr>
              <th scope="col">Done</th>
              <th scope="col">Code</th>
              <th scope="col">Item</th>
              <th scope="col" data-align="end">
                Quantity
              </th>
              <th scope="col">From</th>
              <th scope="col">Picked</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={`${line.itemCode}${line.from ?? ""}`}>
                <td>
                  <span className="ui-sheet-box" />
                </td>
                <th scope="row">{line.itemCode}</th>
                <td>
                  {line.name}
                  {line.note ? <small> {line.note}</small> : null}
                </td>
                <td data-align="end">{formatAmount(line.quantity, line.unit, locale)}</td>
                <td>{line.from}</td>
                <td className="ui-sheet-write" />
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {cuts.length > 0 ? (
        <ScrollRegion label="Cuts">
          <table className="ui-facts">
            <caption>Cuts, each in one piece; marks from the outer end of the drum as received</caption>
            <thead>
              <tr>
                <th scope="col">Done</th>
                <th scope="col">Drum</th>
                <th scope="col">Cable</th>
                <th scope="col">Run</th>
                <th scope="col" data-align="end">
                  Length
                </th>
                <th scope="col" data-align="end">
                  From mark
                </th>
                <th scope="col" data-align="end">
                  To mark
                </th>
                <th scope="col">Measured</th>
              </tr>
            </thead>
            <tbody>
              {cuts.map((cut) => (
                <tr key={`${cut.drumSerial}${cut.fromMarkCm}`}>
                  <td>
                    <span className="ui-sheet-box" />
                  </td>
                  <th scope="row">{cut.drumSerial}</th>
                  <td>{cut.cableCode}</td>
                  <td>{cut.runLabel}</td>
                  <td data-align="end">{formatCm(cut.lengthCm, locale)}</td>
                  <td data-align="end">{formatCm(cut.fromMarkCm, locale)}</td>
                  <td data-align="end">{formatCm(cut.toMarkCm, locale)}</td>
                  <td className="ui-sheet-write" />
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
      {cautions.length > 0 ? (
        <section>
          <h3>Watch for</h3>
          <ul className="ui-sheet-cautions">
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </section>
      ) : null}
      <div className="ui-sheet-sign">
        {["Picked by", "Checked by", "Received by (crew)", "Date"].map((word) => (
          <div key={word}>{word}</div>
        ))}
      </div>
      <footer>
        {props.madeBy ? <p>{props.madeBy}</p> : null}
        <p>{CAUTION}</p>
      </footer>
    </article>
  );
}
