import type { ReactNode } from "react";
import type { CalendarDate } from "@/lib/time";
import { formatCm, formatDate, formatNumber } from "./format";
import type { Words } from "./language/words";
import { ScrollRegion } from "./ScrollRegion";
import { CAUTION } from "./Shell";

export interface PickLine {
  lineNo: number;
  itemCode: string;
  name: string;
  quantity: number;
  unit: string;
  /** Where to take it from: bin, serial number, drum. */
  from?: string;
  note?: string;
  /** Nothing to pick: the vehicle has it opened. */
  isOnVehicle?: boolean;
  /** What it adds to the count of the box, in words. */
  countsAs: string;
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
  /** What whoever picks must know first, such as that the visit is on hold. */
  notice?: ReactNode;
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
  /** The reader's language. */
  words: Words;
}

/** A sheet to take to the shelf: one kit, boxes to tick, cuts with marks, names to sign. Prints on A4 and Letter. */
export function PickSheet(props: PickSheetProps) {
  const { t, locale, amount } = props.words;
  const { lines, cuts, cautions = [] } = props;
  const facts: readonly [string, string][] = [
    [t("Hop"), `${props.hopCode}, ${props.end}`],
    [t("Site"), `${props.siteCode} ${props.siteName}`],
    [t("Crew"), props.crewCode ?? t("not assigned")],
    [t("Needed on"), formatDate(props.neededOn, "full", locale)],
    [t("Depot"), props.depot],
    [
      t("Mass"),
      props.heaviestKg
        ? t("{{mass}} kg, heaviest piece {{heaviest}} kg", {
            mass: formatNumber(props.massKg, 0, locale),
            heaviest: formatNumber(props.heaviestKg, 0, locale),
          })
        : `${formatNumber(props.massKg, 0, locale)} kg`,
    ],
  ];
  return (
    <article className="ui-sheet">
      <header>
        <h2>{t("Pick list {{kit}}", { kit: props.kitCode })}</h2>
        <dl>
          {facts.map(([term, words]) => (
            <div key={term}>
              <dt>{term}</dt>
              <dd>{words}</dd>
            </div>
          ))}
        </dl>
      </header>
      {props.notice}
      <ScrollRegion label={t("Items")}>
        <table className="ui-facts">
          <caption>{t("Items")}</caption>
          <thead>
            <tr>
              <th scope="col">{t("Done")}</th>
              <th scope="col">{t("Code")}</th>
              <th scope="col">{t("Item")}</th>
              <th scope="col" data-align="end">
                {t("Quantity")}
              </th>
              <th scope="col">{t("From")}</th>
              <th scope="col">{t("Counts as")}</th>
              <th scope="col">{t("Picked")}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={line.lineNo}>
                <td>{line.isOnVehicle ? null : <span className="ui-sheet-box" />}</td>
                <th scope="row">{line.itemCode}</th>
                <td>
                  {line.name}
                  {line.note ? <small> {line.note}</small> : null}
                </td>
                <td data-align="end">{amount(line.quantity, line.unit)}</td>
                <td>{line.from}</td>
                <td>{line.countsAs}</td>
                <td className={line.isOnVehicle ? undefined : "ui-sheet-write"} />
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {cuts.length > 0 ? (
        <ScrollRegion label={t("Cuts")}>
          <table className="ui-facts">
            <caption>
              {t(
                "Cuts, each in one piece and counted as 1 run; marks from the outer end of the drum as received",
              )}
            </caption>
            <thead>
              <tr>
                <th scope="col">{t("Done")}</th>
                <th scope="col">{t("Drum")}</th>
                <th scope="col">{t("Cable")}</th>
                <th scope="col">{t("Run")}</th>
                <th scope="col" data-align="end">
                  {t("Length")}
                </th>
                <th scope="col" data-align="end">
                  {t("From mark")}
                </th>
                <th scope="col" data-align="end">
                  {t("To mark")}
                </th>
                <th scope="col">{t("Measured")}</th>
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
          <h3>{t("Watch for")}</h3>
          <ul className="ui-sheet-cautions">
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </section>
      ) : null}
      <div className="ui-sheet-sign">
        {[t("Picked by"), t("Checked by"), t("Received by (crew)"), t("Date")].map((word) => (
          <div key={word}>{word}</div>
        ))}
      </div>
      <footer>
        {props.madeBy ? <p>{props.madeBy}</p> : null}
        <p>{t(CAUTION)}</p>
      </footer>
    </article>
  );
}
