import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { logDetail } from "@/app/(work)/rules/logDetail";
import { logSubject } from "@/app/(work)/rules/logSubject";
import { changeSaid } from "@/app/(work)/rules/logWords";

const english = makeWords("en", wholeCatalogueOf("en"));
const german = makeWords("de", wholeCatalogueOf("de"));
const instant = (at: number) => new Date(at).toISOString().slice(0, 16);

test("an entry of the log is said in words: fields apart, times by the clock, units beside figures", () => {
  expect(
    logDetail(
      {
        visitIds: ["A", "B"],
        startMin: 531,
        endMin: 1016,
        workedMin: 90,
        windMaxMs: 9.9,
        isLooser: true,
        by: null,
      },
      instant,
      english,
    ).shown,
  ).toBe(
    "visits A; B, start 08:51, end 16:56, worked 1\u202fh 30\u202fmin, wind max 9.9\u202fm/s, is looser yes, by none",
  );
  expect(logDetail({ at: 1773646200000, "VH-01": 2, lengthC: 2350 }, instant, english).shown).toBe(
    "at 2026-03-16T07:30, VH-01 2, length 23.5",
  );
});

test("of what is long the rest is set apart at a gap, and a text stays as it is", () => {
  expect(logDetail("as delivered", instant, english)).toEqual({ shown: "as delivered" });
  const words = Array.from({ length: 90 }, (_, i) => `word${i}`);
  const { shown, rest } = logDetail({ note: words.join(" ") }, instant, english);
  expect(shown.length).toBeLessThanOrEqual(400);
  expect(`${shown} ${rest}`).toBe(`note ${words.join(" ")}`);
  expect(logDetail({ note: "x".repeat(900) }, instant, english).shown).toHaveLength(400);
});

test("in German fields, states, figures and days are German; what somebody wrote stays", () => {
  const inGerman = (detail: unknown) =>
    logDetail(detail, instant, german).shown.replaceAll(/[\u202f\u00a0]/g, " ");
  expect(inGerman({ outcome: "part done", workedMin: 450, leftMin: null, holdReason: "done" })).toBe(
    "Ergebnis teilweise erledigt, gearbeitet 7 h 30 min, verbleibend keine, Grund des Halts done",
  );
  expect(inGerman({ quantity: 2.5, dueOn: "2026-03-18", lineNo: 1200 })).toBe(
    "Menge 2,5, fällig Mi 18. März 2026, Zeile 1200",
  );
  expect(inGerman({ readings: [{ askedId: "near/receive level/R1", value: -41.7 }], state: "open" })).toBe(
    "Messwerte nah Empfangspegel R1: -41,7 dBm, Stand offen",
  );
  expect(inGerman({ opened: [] })).toBe("neue Nacharbeit keine");
  expect(inGerman({ currency: "EUR", priceMinor: 1250 })).toBe("Währung EUR, Preis 12,50 €");
});

test("readings, remedies, schemes and visits are said, in either language", () => {
  const of = (detail: unknown, words = english) =>
    logDetail(detail, instant, words).shown.replaceAll(/[\u202f\u00a0]/g, " ");
  const readings = [
    { askedId: "far/receive level/R1", value: -41.5, passed: null },
    { askedId: "near/photos", passed: true },
    { askedId: "error run", value: 3 },
  ];
  expect(of({ readings, opened: ["VH001/near/revisit-2"] })).toBe(
    "readings far receive level R1: -41.5 dBm; near photos: passed; error run: 3 s, new revisit VH001 near revisit, part 2",
  );
  expect(of({ readings: [{ askedId: "near/earth resistance", value: 4 }] }, german)).toBe(
    `Messwerte nah ${german.t("earth resistance (in the log)")}: 4 Ohm`,
  );
  const withdrawn = { visitId: "VH001/far/revisit", remedy: "align again" };
  expect(of(withdrawn)).toBe("visit VH001 far revisit, remedy align again");
  expect(of(withdrawn, german)).toBe("Einsatz VH001 Nacharbeit (fern), Abhilfe neu ausrichten");
  expect(of({ changes: ["Scheme: 1+0 to 2+0 two channels"] }, german)).toContain(
    "von 1+0 auf 2+0 zwei Kanäle",
  );
  // What somebody wrote is no visit.
  expect(of({ note: "VH001/far/revisit" })).toBe("note VH001/far/revisit");
});

test("in German a change by hand names its field and its blank side", () => {
  const [inRecord, inRow, isNew] = [
    "Scheme: 1+0 to blank",
    "Antennas V1/near/A1, Mount height: 30 to 32",
    "new",
  ];
  expect(changeSaid(inRecord!, german)).toBe(`${german.t("Scheme")}: von 1+0 auf leer`);
  expect(changeSaid(inRow!, german)).toBe("Antennen V1/near/A1, Antennenhöhe: von 30 auf 32");
  expect(changeSaid(`Antennas V1/near/A1, ${isNew}`, german)).toBe("Antennen V1/near/A1, neu");
  expect(changeSaid(inRow!, english)).toBe(inRow);
});

test("what an entry is about is said by its kind, with the code as it is", () => {
  const accounts = new Map([["7", "Lin (l@x)"]]);
  const said = (subject: string, words = german) => logSubject(subject, accounts, words);
  expect(said("hop VH016")).toBe("Strecke VH016");
  expect(said("kit VH016/near/install")).toBe("Material VH016 nah");
  expect(said("VH016/near/install")).toBe("VH016 nah");
  expect(said("rules:hour norms")).toBe("Regeln: Stundennormen");
  expect(said("account:7")).toBe("Lin (l@x)");
  expect(said("member:M1")).toBe("Mitglied M1");
  expect(["hop VH016", "kit VH016/near/install", "rules:hour norms"].map((s) => said(s, english))).toEqual([
    "hop VH016",
    "kit VH016 near",
    "rules: hour norms",
  ]);
});

test("a move of several says where each of them went", () => {
  const to = (visitId: string, startOn: string) => ({ visitId, crewCode: "C5", startOn, startMin: 480 });
  const { shown } = logDetail(
    { to: [to("A/near/install", "2026-04-28"), to("B/far/install", "2026-04-30")] },
    instant,
    english,
  );
  expect(shown).toContain("visit A near install");
  expect(shown).toContain("visit B far install");
  expect(shown).toMatch(/28\sApr/);
  expect(shown).toMatch(/30\sApr/);
});
