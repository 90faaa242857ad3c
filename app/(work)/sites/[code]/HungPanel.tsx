import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { formatDate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { serialPath } from "@/app/(work)/stock/words";
import { database } from "@/db/open";
import { type HungUnit, loadHung } from "@/db/queries/hung";
import type { SiteEnd } from "./desk";
import { HangForm, TakeDownButton } from "./HangForm";
import { TAKEN_DOWN_WORDS } from "./takenDown";

/** Which serial hangs at which position of an end. */
export async function HungPanel({ end, mayPost }: { end: SiteEnd; mayPost: boolean }) {
  const { t, locale } = await serverWords();
  const db = database();
  const today = homeToday(db);
  const own = loadHung(db, { hopCodes: [end.hop.code] }).filter((h) => h.side === end.side);
  const hanging = new Map(own.filter((h) => h.endedOn === null).map((h) => [h.oduLabel, h]));
  const gone = own.filter((h) => h.endedOn !== null);
  const link = (h: HungUnit) => (mayPost ? <Link href={serialPath(h.serial)}>{h.serial}</Link> : h.serial);
  return (
    <Panel
      title={t("Radios that hang: {{hop}}, {{side}} end", { hop: end.hop.code, side: t(end.side) })}
      note={t("By serial, as a crew reported it or as it was recorded here.")}
      flush
    >
      <ScrollRegion
        label={t("Radios of {{hop}}, {{side}} end", { hop: end.hop.code, side: t(end.side) })}
        className="max-md:px-4"
      >
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Which radio")}</th>
              <th scope="col">{t("Serial")}</th>
              <th scope="col">{t("Since")}</th>
              <th scope="col">{t("Before it")}</th>
              {mayPost ? <th scope="col">{t("Taken down")}</th> : null}
            </tr>
          </thead>
          <tbody>
            {end.end.odus.map((o) => {
              const h = hanging.get(o.label);
              const before = gone.filter((g) => g.oduLabel === o.label);
              return (
                <tr key={o.label}>
                  <th scope="row" data-label={t("Which radio")}>
                    <span>
                      {o.label} <small>{t(o.role)}</small>
                    </span>
                  </th>
                  <td data-label={t("Serial")}>{h ? link(h) : t("not recorded")}</td>
                  <td data-label={t("Since")}>
                    {h
                      ? t("{{day}}, by {{name}}", {
                          day: formatDate(h.hungOn, "full", locale),
                          name: h.recordedBy,
                        })
                      : "–"}
                  </td>
                  <td data-label={t("Before it")}>
                    <span>
                      {before.length === 0
                        ? "–"
                        : before.map((g, i) => (
                            <span key={g.id}>
                              {i > 0 ? "; " : ""}
                              {link(g)}{" "}
                              {t("to {{day}}, {{why}}", {
                                day: formatDate(g.endedOn, "full", locale),
                                why: t(TAKEN_DOWN_WORDS[g.endedWhy!]),
                              })}
                            </span>
                          ))}
                    </span>
                  </td>
                  {mayPost ? (
                    <td data-label={t("Taken down")}>
                      {h ? <TakeDownButton unit={h} today={today} /> : "–"}
                    </td>
                  ) : null}
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollRegion>
      {mayPost ? (
        <div className="p-4">
          <HangForm
            hopCode={end.hop.code}
            side={end.side}
            positions={end.end.odus.map((o) => ({ label: o.label, role: o.role }))}
            today={today}
          />
        </div>
      ) : null}
    </Panel>
  );
}
