"use client";

import { Disclosure } from "@/app/_ui/Disclosure";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";

/** One radio of the end's design. */
export interface HungRadio {
  label: string;
  role: string;
  /** What hangs there by the books; "" = not known. */
  serial: string;
  /** Serials of its variant that left with the kit. */
  inKit: readonly string[];
}

/** Which serial hangs where, read from the labels before the radios go up. */
export function HungFields({ radios }: { radios: readonly HungRadio[] }) {
  const { t } = useWords();
  return (
    <Disclosure summary={t("Serials of the radios that hang")}>
      <div className="grid gap-3 sm:grid-cols-2">
        {radios.map((r, i) => (
          <TextInput
            key={r.label}
            label={t("Serial of {{position}}, {{role}}", { position: r.label, role: t(r.role) })}
            name={`hung-${i}`}
            maxLength={60}
            defaultValue={r.serial}
            list={r.inKit.length > 0 ? `in-kit-${i}` : undefined}
            hint={
              r.inKit.length > 0
                ? t("From the label; empty = not read. In the kit: {{serials}}.", {
                    serials: r.inKit.join(", "),
                  })
                : t("From the label; empty = not read.")
            }
          />
        ))}
        {radios.map(({ label, inKit }, i) =>
          inKit.length > 0 ? (
            <datalist key={label} id={`in-kit-${i}`}>
              {inKit.map((serial) => (
                <option key={serial} value={serial} />
              ))}
            </datalist>
          ) : null,
        )}
      </div>
    </Disclosure>
  );
}

/** What the fields say, as the server reads it (app/api/reports). */
export function hungFrom(form: FormData, radios: readonly HungRadio[]) {
  return radios.flatMap(({ label }, i) => {
    const serial = String(form.get(`hung-${i}`) ?? "").trim();
    return serial ? [{ oduLabel: label, serial }] : [];
  });
}
