"use client";

import { type FormEvent, useEffect, useRef, useState } from "react";
import { keepInAddress } from "@/app/_client/keepInAddress";
import { useJob } from "@/app/_client/useJob";
import type { PlanMade, PlanProgress } from "@/app/_server/planning";
import { Button, LinkButton } from "@/app/_ui/Button";
import { CostTraceChart } from "@/app/_ui/charts/CostTraceChart";
import { NumberInput, TextInput } from "@/app/_ui/Field";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ProgressBar } from "@/app/_ui/ProgressBar";
import { Stat, StatRow } from "@/app/_ui/Stat";
import type { Problem } from "@/lib/result";
import { solve } from "../actions";

export interface SolveFormProps {
  jobId?: string;
  weeks: number;
  frozenDays: number;
  hasPlan: boolean;
}

type Outcome = PlanMade | { problems: readonly Problem[] };

export const STAGES = {
  "take-off and hours": "Taking off and estimating",
  "weather windows": "Finding weather windows",
  kits: "Dating kits",
  crews: "Searching for better plans",
  stock: "Netting needs against stock",
} as const;

/** What to search, then how it goes, then where it went. The job's id is in the address: a reload loses nothing. */
export function SolveForm(props: SolveFormProps) {
  const words = useWords();
  const { t } = words;
  const [jobId, setJobId] = useState(props.jobId);
  const [seconds, setSeconds] = useState(20);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isStarting, setIsStarting] = useState(false);
  const job = useJob<PlanProgress, Outcome>(jobId);
  const trace = useTrace(job?.progress ?? null, jobId);
  const isRunning = job !== null && ["connecting", "queued", "running"].includes(job.state);
  const of = (field: string) => {
    const p = problems.find((x) => x.path === field);
    return p ? `${messageOf(p, words)}. ${remedyOf(p, words)}` : undefined;
  };

  async function start(event: FormEvent<HTMLFormElement>): Promise<void> {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const number = (name: string) => Number(form.get(name) || Number.NaN);
    setIsStarting(true);
    const answer = await solve({
      weeks: number("weeks"),
      seconds: number("seconds"),
      frozenDays: Number(form.get("frozenDays") ?? 0),
      seed: String(form.get("seed") ?? ""),
    });
    setIsStarting(false);
    setProblems(answer.ok ? [] : answer.problems);
    if (!answer.ok) return;
    setSeconds(number("seconds"));
    setJobId(answer.value);
    keepInAddress("job", answer.value);
  }

  if (isRunning) return <Running job={job} trace={trace} seconds={seconds} />;
  return (
    <div className="grid gap-4">
      {job ? <Ended job={job} trace={trace} /> : null}
      <Panel title={job ? t("Search again") : t("What to search")}>
        <form className="ui-form" onSubmit={start} noValidate>
          {problems
            .filter((p) => !["weeks", "seconds", "seed", "frozenDays"].includes(p.path))
            .map((p) => (
              <Notice key={p.message} kind="problem" announce title={messageOf(p, words)}>
                {remedyOf(p, words)}
              </Notice>
            ))}
          <div className="ui-form-row">
            <NumberInput
              label={t("Look ahead")}
              name="weeks"
              unit={t("weeks")}
              min={1}
              max={52}
              step={1}
              defaultValue={props.weeks}
              error={of("weeks")}
              required
            />
            <NumberInput
              label={t("Solve for")}
              name="seconds"
              unit="s"
              min={1}
              max={3600}
              step={1}
              defaultValue={20}
              hint={t("You can stop it earlier and keep what it found.")}
              error={of("seconds")}
              required
            />
            <NumberInput
              label={t("Leave as they are")}
              name="frozenDays"
              unit={t("days")}
              min={0}
              max={60}
              step={1}
              defaultValue={props.frozenDays}
              hint={
                props.hasPlan
                  ? t("The first days of the plan in force, today included.")
                  : t("Counts only once a plan is in force.")
              }
              error={of("frozenDays")}
            />
            <TextInput
              label={t("Seed")}
              name="seed"
              defaultValue="1"
              hint={t(
                "The same data and word give the same search; another word tries other ways. Leave it as it is unless you want a second opinion.",
              )}
              error={of("seed")}
              required
            />
          </div>
          <div className="ui-form-actions">
            <Button kind="primary" type="submit" busy={isStarting}>
              {t("Search")}
            </Button>
          </div>
        </form>
      </Panel>
    </div>
  );
}

type Job = NonNullable<ReturnType<typeof useJob<PlanProgress, Outcome>>>;
type Trace = readonly { iteration: number; cost: number }[];

function Running({ job, trace, seconds }: { job: Job; trace: Trace; seconds: number }) {
  const { t, locale } = useWords();
  const p = job.progress;
  const isSearching = p?.stage === "crews";
  const first = trace[0];
  const searchesFrom = useRef<number>(undefined);
  if (isSearching && p) searchesFrom.current ??= p.seconds;
  return (
    <Panel
      title={t("Searching")}
      note={job.interrupted ? t("The connection is interrupted; the search goes on.") : undefined}
    >
      <div className="grid gap-4">
        <ProgressBar
          label={
            p ? t(STAGES[p.stage]) : job.state === "queued" ? t("Waiting for the worker") : t("Starting")
          }
          share={
            isSearching && p ? Math.min(0.99, (p.seconds - (searchesFrom.current ?? 0)) / seconds) : undefined
          }
          words={p?.iteration === undefined ? undefined : t("{{tries}} tries", { tries: p.iteration })}
          onCancel={job.stopping ? undefined : job.cancel}
          cancelWords={t("Stop and keep the best")}
        />
        {job.stopping ? <p role="status">{t("Stopping: what it has so far becomes the draft.")}</p> : null}
        <StatRow>
          <Stat label={t("Tries")} figure={formatNumber(p?.iteration ?? 0, 0, locale)} />
          <Stat
            label={t("Best cost so far")}
            figure={p?.best ? formatNumber(p.best.total, 0, locale) : "–"}
            limit={
              first && p?.best
                ? t("points, less is better; began at {{cost}}", {
                    cost: formatNumber(first.cost, 0, locale),
                  })
                : t("points, less is better: what is late, driven and uneven, weighed by the rules")
            }
          />
          <Stat
            label={t("Placed")}
            figure={p?.placed === undefined ? "–" : formatNumber(p.placed, 0, locale)}
            unit={t("visits")}
          />
          <Stat
            label={t("Not placed")}
            figure={p?.unplaced === undefined ? "–" : formatNumber(p.unplaced, 0, locale)}
            unit={t("visits")}
          />
          <Stat
            label={t("Days late, weighted")}
            figure={p?.best ? formatNumber(p.best.lateHopDays, 0, locale) : "–"}
          />
          <Stat label={t("Crew days")} figure={p?.best ? formatNumber(p.best.crewDays, 0, locale) : "–"} />
        </StatRow>
        <div className="min-h-72">
          {trace.length > 1 ? (
            <CostTraceChart trace={trace} />
          ) : isSearching ? (
            <p className="text-quiet">{t("Nothing better yet than the plan it began with.")}</p>
          ) : null}
        </div>
      </div>
    </Panel>
  );
}

function Ended({ job, trace }: { job: Job; trace: Trace }) {
  const words = useWords();
  const { t } = words;
  const { result } = job;
  if (job.state === "failed") {
    return (
      <Notice kind="problem" announce title={t("The search ended with a fault")}>
        <span lang="en">{job.error}</span> {t("Nothing was changed; search again.")}
      </Notice>
    );
  }
  if (!result) {
    return (
      <Notice kind="info" announce title={t("The search ended before it had a plan")}>
        {t("Nothing was changed.")}
      </Notice>
    );
  }
  if ("problems" in result) {
    return (
      <Notice kind="problem" announce title={t("No plan can be made from these data")}>
        <ul>
          {result.problems.slice(0, 12).map((p) => (
            <li key={`${p.path}${p.rule}`}>
              {p.path}: {messageOf(p, words)} {remedyOf(p, words)}
            </li>
          ))}
        </ul>
      </Notice>
    );
  }
  return (
    <>
      <Notice
        kind="good"
        announce
        title={
          result.stopped
            ? t("Draft {{plan}} is made (stopped early)", { plan: String(result.planId) })
            : t("Draft {{plan}} is made", { plan: String(result.planId) })
        }
        action={
          <div className="flex flex-wrap gap-2">
            <LinkButton kind="primary" href={`/plan/compare?plan=${result.planId}`}>
              {t("Compare and decide")}
            </LinkButton>
            <LinkButton href={`/plan?plan=${result.planId}`}>{t("Open its board")}</LinkButton>
          </div>
        }
      >
        {t("{{count}} visits placed, {{unplaced}} not.", { count: result.placed, unplaced: result.unplaced })}
      </Notice>
      {trace.length > 1 ? (
        <Panel title={t("How the search went")}>
          <CostTraceChart trace={trace} />
        </Panel>
      ) : trace.length === 1 ? (
        <p>{t("The search found nothing better than the plan it began with.")}</p>
      ) : null}
    </>
  );
}

/** Less than that is rounding, and no step in the drawing. */
const LEAST_GAIN = 0.5;

/** Best costs as they were reported, one point per improvement. */
function useTrace(progress: PlanProgress | null, jobId: string | undefined): Trace {
  const [trace, setTrace] = useState<Trace>([]);
  const of = useRef(jobId);
  useEffect(() => {
    if (of.current !== jobId) {
      of.current = jobId;
      setTrace([]);
    }
    const { iteration, best } = progress ?? {};
    if (iteration === undefined || !best) return;
    setTrace((known) => {
      const last = known.at(-1);
      if (last && iteration < last.iteration) return [{ iteration, cost: best.total }];
      if (last && Math.abs(last.cost - best.total) < LEAST_GAIN) return known;
      return [...known.slice(-400), { iteration, cost: best.total }];
    });
  }, [progress, jobId]);
  return trace;
}
