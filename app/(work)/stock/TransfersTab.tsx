import Link from "next/link";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatAmount, formatCount, formatDate, formatDaysLate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { TransferView } from "@/db/queries/transfers";
import { addDays, type CalendarDate } from "@/lib/time";
import { CancelTransferButton, MoveTransferButton, PlanTransfersButton } from "./TransferButtons";
import { itemPath } from "./words";

/** What is to leave later stands folded, and of very many only the first until all are asked for. */
const SOON_DAYS = 14;
const LATER_SHOWN = 60;

export interface TransfersTabProps {
  proposed: readonly TransferView[];
  /** Every line, however many. */
  isWhole: boolean;
  planned: readonly TransferView[];
  today: CalendarDate;
  mayPost: boolean;
}

/** What to send from one warehouse to another before anything is bought: proposed, and decided on. */
export function TransfersTab({ proposed, isWhole, planned, today, mayPost }: TransfersTabProps) {
  if (proposed.length + planned.length === 0) {
    return (
      <EmptyState
        title="Nothing to send between warehouses"
        actions={<LinkButton href="/stock?tab=order">Order today</LinkButton>}
      >
        Every shelf covers its own kits, or no other warehouse has anything to spare. What is left to buy
        stands in Order today.
      </EmptyState>
    );
  }
  const until = addDays(today, SOON_DAYS);
  const step = mayPost
    ? (t: TransferView) => <PlanTransfersButton ids={[t.id]} words="Plan" of={t.itemCode} />
    : undefined;
  return (
    <div className="grid grid-cols-1 gap-4">
      {planned.length > 0 ? (
        <Panel
          title={`To move: ${formatCount(planned.length, "planned transfer")}`}
          note="Decided on: the netting counts on them. Moving one writes it into the ledger, lots that expire first first."
          flush
        >
          <TransferRows
            label="Planned transfers"
            rows={planned}
            today={today}
            last={mayPost ? (t) => <PlannedSteps transfer={t} today={today} /> : undefined}
          />
        </Panel>
      ) : null}
      {directions(proposed).map((group) => {
        const { fromPlace, toPlace } = group[0]!;
        const due = group.filter((t) => t.sendOn <= today);
        const soon = group.filter((t) => t.sendOn <= until);
        const later = group.filter((t) => t.sendOn > until);
        return (
          <Panel
            key={`${fromPlace} ${toPlace}`}
            title={`Proposed: ${fromPlace} to ${toPlace}, ${formatCount(group.length, "line")}`}
            note="What one shelf has to spare to the end of the plan, above its own safety stock, before anything is bought."
            actions={
              mayPost ? (
                <div className="ui-toolbar ui-no-print">
                  {due.length > 0 && due.length < group.length ? (
                    <PlanTransfersButton ids={due.map((t) => t.id)} words={`Plan ${due.length} due today`} />
                  ) : null}
                  <PlanTransfersButton ids={group.map((t) => t.id)} words={`Plan all ${group.length}`} />
                </div>
              ) : undefined
            }
            flush
          >
            <TransferRows
              label={`Proposed from ${fromPlace} to ${toPlace}`}
              rows={soon.length > 0 ? soon : group}
              today={today}
              last={step}
            />
            {soon.length > 0 && later.length > 0 ? (
              <Disclosure
                summary={`${formatCount(later.length, "line")} to leave after ${formatDate(until, "weekday")}`}
              >
                <TransferRows
                  label={`Later from ${fromPlace} to ${toPlace}`}
                  rows={isWhole ? later : later.slice(0, LATER_SHOWN)}
                  today={today}
                  last={step}
                />
                {!isWhole && later.length > LATER_SHOWN ? (
                  <p className="px-4 py-3">
                    <Link href="/stock?tab=transfers&shown=all">
                      Show {formatCount(later.length - LATER_SHOWN, "further line")}
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
  for (const t of rows) {
    const key = `${t.fromPlace} ${t.toPlace}`;
    groups.set(key, [...(groups.get(key) ?? []), t]);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, list]) => list);
}

function PlannedSteps({ transfer: t, today }: { transfer: TransferView; today: CalendarDate }) {
  const what = `${formatAmount(t.quantity, t.unit)} ${t.itemCode} from ${t.fromPlace} to ${t.toPlace}`;
  return (
    <span className="flex flex-wrap justify-end gap-2">
      <MoveTransferButton id={t.id} quantity={t.quantity} unit={t.unit} today={today} what={what} />
      <CancelTransferButton id={t.id} what={what} />
    </span>
  );
}

interface TransferRowsProps {
  label: string;
  rows: readonly TransferView[];
  today: CalendarDate;
  last?: (t: TransferView) => React.ReactNode;
}

function TransferRows({ label, rows, today, last }: TransferRowsProps) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col" data-align="end">
              Quantity
            </th>
            <th scope="col">From</th>
            <th scope="col">To</th>
            <th scope="col">Send by</th>
            <th scope="col">There on</th>
            <th scope="col">In time?</th>
            {last ? (
              <th scope="col" data-align="end">
                Step
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {rows.map((t) => (
            <tr key={t.id}>
              <th scope="row" data-label="Item">
                <Link href={itemPath(t.itemCode)}>{t.itemCode}</Link> <small>{t.name}</small>
              </th>
              <td data-label="Quantity" data-align="end">
                {formatAmount(t.quantity, t.unit)}
              </td>
              <td data-label="From">{t.fromPlace}</td>
              <td data-label="To">{t.toPlace}</td>
              <td data-label="Send by">{t.sendOn <= today ? "today" : formatDate(t.sendOn, "weekday")}</td>
              <td data-label="There on">{formatDate(t.arriveOn, "weekday")}</td>
              <td data-label="In time?">
                {t.daysLate > 0 ? (
                  <StateMark state="late">{formatDaysLate(t.daysLate)}</StateMark>
                ) : t.arriveOn < today ? (
                  <StateMark state="late">overdue</StateMark>
                ) : (
                  <StateMark state="met">In time</StateMark>
                )}
              </td>
              {last ? (
                <td data-label="Step" data-align="end">
                  {last(t)}
                </td>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
