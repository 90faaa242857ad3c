import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { CoilOnItsWay } from "@/db/queries/coils";
import type { RunsOutRow } from "@/db/queries/runsOut";
import type { TransferView } from "@/db/queries/transfers";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { CoilsPanel } from "./CoilsPanel";
import { CancelTransferButton, MoveTransferButton, PlanTransfersButton } from "./TransferButtons";
import { itemPath, namedPlace } from "./words";

/** What is to leave later stands folded, and of very many only the first until all are asked for. */
const SOON_DAYS = 14;
const LATER_SHOWN = 60;

/** What is sent back of a line when it is planned, and no more. */
const shownOf = ({ itemCode, fromPlace, toPlace, quantity, sendOn }: TransferView) => ({
  itemCode,
  fromPlace,
  toPlace,
  quantity,
  sendOn,
});

export interface TransfersTabProps {
  proposed: readonly TransferView[];
  /** Names of the places, by code. */
  placeNames: ReadonlyMap<string, string>;
  /** Every line, however many. */
  isWhole: boolean;
  planned: readonly TransferView[];
  coils: readonly CoilOnItsWay[];
  today: CalendarDate;
  mayPost: boolean;
  /** What runs out: says which visits stop before a transfer is there. */
  runsOut: readonly RunsOutRow[];
}

/** What to send from one warehouse to another before anything is bought: proposed, and decided on. */
export async function TransfersTab(props: TransfersTabProps) {
  const { proposed, isWhole, planned, coils, today, mayPost } = props;
  const stops = new Map(
    props.runsOut.flatMap((r) =>
      r.firstStops[0] ? [[shelfOf(r.itemCode, r.placeCode), r.firstStops[0].on]] : [],
    ),
  );
  const words = await serverWords();
  const { t, locale } = words;
  if (proposed.length + planned.length + coils.length === 0) {
    return (
      <EmptyState
        title={t("Nothing to send between warehouses")}
        actions={<LinkButton href="/stock?tab=order">{t("Order today")}</LinkButton>}
      >
        {t(
          "Every shelf covers its own kits, or no other warehouse has anything to spare. What is left to buy stands in Order today.",
        )}
      </EmptyState>
    );
  }
  const until = addDays(today, SOON_DAYS);
  const step = mayPost
    ? (move: TransferView) => (
        <PlanTransfersButton moves={[move].map(shownOf)} words={t("Plan (transfer)")} of={move.itemCode} />
      )
    : undefined;
  return (
    <div className="grid grid-cols-1 gap-4">
      {coils.length > 0 ? <CoilsPanel rows={coils} today={today} mayPost={mayPost} /> : null}
      {planned.length > 0 ? (
        <Panel
          title={t("To move: {{count}} planned transfers", { count: planned.length })}
          note={t(
            "Decided on: the netting counts on them. Moving one writes it into the ledger, lots that expire first first.",
          )}
          flush
        >
          <TransferRows
            label={t("Planned transfers")}
            rows={planned}
            today={today}
            stops={stops}
            last={mayPost ? (move) => <PlannedSteps transfer={move} today={today} /> : undefined}
          />
        </Panel>
      ) : null}
      {directions(proposed).map((group) => {
        const { fromPlace, toPlace } = group[0]!;
        const due = group.filter((move) => move.sendOn <= today);
        const soon = group.filter((move) => move.sendOn <= until);
        const later = group.filter((move) => move.sendOn > until);
        return (
          <Panel
            key={`${fromPlace} ${toPlace}`}
            title={t("Proposed: {{from}} to {{to}}, {{count}} lines", {
              from: namedPlace(fromPlace, props.placeNames, words),
              to: namedPlace(toPlace, props.placeNames, words),
              count: group.length,
            })}
            note={t(
              "What one shelf has to spare to the end of the plan, before anything is bought; of what it keeps back only where a visit would stop.",
            )}
            actions={
              mayPost ? (
                <div className="ui-toolbar ui-no-print">
                  {due.length > 0 && due.length < group.length ? (
                    <PlanTransfersButton
                      moves={due.map(shownOf)}
                      words={t("Plan {{due}} due today", { due: due.length })}
                    />
                  ) : null}
                  <PlanTransfersButton
                    moves={group.map(shownOf)}
                    words={t("Plan all {{group}}", { group: group.length })}
                  />
                </div>
              ) : undefined
            }
            flush
          >
            <TransferRows
              label={t("Proposed from {{from}} to {{to}}", { from: fromPlace, to: toPlace })}
              rows={soon.length > 0 ? soon : group}
              today={today}
              stops={stops}
              last={step}
            />
            {soon.length > 0 && later.length > 0 ? (
              <Disclosure
                summary={t("{{count}} lines to leave after {{until}}", {
                  count: later.length,
                  until: formatDate(until, "weekday", locale),
                })}
              >
                <TransferRows
                  label={t("Later from {{from}} to {{to}}", { from: fromPlace, to: toPlace })}
                  rows={isWhole ? later : later.slice(0, LATER_SHOWN)}
                  today={today}
                  stops={stops}
                  last={step}
                />
                {!isWhole && later.length > LATER_SHOWN ? (
                  <p className="px-4 py-3">
                    <Link href="/stock?tab=transfers&shown=all">
                      {t("Show {{count}} further lines", { count: later.length - LATER_SHOWN })}
                    </Link>
                  </p>
                ) : null}
              </Disclosure>
            ) : null}
          </Panel>
        );
      })}
    </div>
  );
}

function directions(rows: readonly TransferView[]): TransferView[][] {
  const groups = new Map<string, TransferView[]>();
  for (const move of rows) {
    const key = `${move.fromPlace} ${move.toPlace}`;
    groups.set(key, [...(groups.get(key) ?? []), move]);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, list]) => list);
}

async function PlannedSteps({ transfer, today }: { transfer: TransferView; today: CalendarDate }) {
  const { t, amount } = await serverWords();
  const what = t("{{quantity}} {{item}} from {{from}} to {{to}}", {
    quantity: amount(transfer.quantity, transfer.unit),
    item: transfer.itemCode,
    from: transfer.fromPlace,
    to: transfer.toPlace,
  });
  return (
    <span className="flex flex-wrap justify-end gap-2">
      <MoveTransferButton
        id={transfer.id}
        quantity={transfer.quantity}
        unit={transfer.unit}
        today={today}
        what={what}
      />
      <CancelTransferButton id={transfer.id} what={what} />
    </span>
  );
}

interface TransferRowsProps {
  label: string;
  rows: readonly TransferView[];
  today: CalendarDate;
  /** First day on which work stops for an item at a warehouse. */
  stops: ReadonlyMap<string, CalendarDate>;
  last?: (move: TransferView) => React.ReactNode;
}

const shelfOf = (itemCode: string, placeCode: string): string => `${itemCode} ${placeCode}`;

/** Days that kits wait for it; a shelf that is short of its reserve stops nobody. */
const lateForKits = ({ daysLate, arriveOn }: TransferView, stop: CalendarDate | undefined): number =>
  daysLate === 0 || stop === undefined ? 0 : Math.min(daysLate, Math.max(0, daysBetween(stop, arriveOn)));

async function TransferRows({ label, rows, today, stops, last }: TransferRowsProps) {
  const { t, locale, amount, daysLate } = await serverWords();
  const stopOf = (move: TransferView) => stops.get(shelfOf(move.itemCode, move.toPlace));
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Item")}</th>
            <th scope="col" data-align="end">
              {t("Quantity")}
            </th>
            <th scope="col">{t("From")}</th>
            <th scope="col">{t("To")}</th>
            <th scope="col">{t("Send by")}</th>
            <th scope="col">{t("There on")}</th>
            <th scope="col">{t("In time?")}</th>
            {last ? (
              <th scope="col" data-align="end">
                {t("Step")}
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {rows.map((move) => (
            <tr key={move.id}>
              <th scope="row" data-label={t("Item")}>
                <Link href={itemPath(move.itemCode)}>{move.itemCode}</Link> <small>{move.name}</small>
              </th>
              <td data-label={t("Quantity")} data-align="end">
                {amount(move.quantity, move.unit)}
              </td>
              <td data-label={t("From")}>
                <span className="whitespace-nowrap">{move.fromPlace}</span>
                {move.fromReserve ? <small> {t("from what it keeps back: a visit would stop")}</small> : null}
              </td>
              <td data-label={t("To")} className="whitespace-nowrap">
                {move.toPlace}
              </td>
              <td data-label={t("Send by")}>
                {move.sendOn <= today ? t("today") : formatDate(move.sendOn, "weekday", locale)}
              </td>
              <td data-label={t("There on")}>{formatDate(move.arriveOn, "weekday", locale)}</td>
              <td data-label={t("In time?")}>
                {lateForKits(move, stopOf(move)) > 0 ? (
                  <StateMark state="late">{daysLate(lateForKits(move, stopOf(move)))}</StateMark>
                ) : move.arriveOn < today ? (
                  <StateMark state="late">{t("overdue")}</StateMark>
                ) : (stopOf(move) ?? move.arriveOn) < move.arriveOn ? (
                  <StateMark state="warn">
                    {t("in time for what it is for; work stops from {{day}}", {
                      day: formatDate(stopOf(move), "day", locale),
                    })}
                  </StateMark>
                ) : move.daysLate > 0 ? (
                  <StateMark state="met">{t("in time for every kit; the reserve waits for it")}</StateMark>
                ) : (
                  <StateMark state="met">{t("In time")}</StateMark>
                )}
              </td>
              {last ? (
                <td data-label={t("Step")} data-align="end">
                  {last(move)}
                </td>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
