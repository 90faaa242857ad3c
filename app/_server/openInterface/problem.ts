/** What the open interface answers when it cannot do what was asked: problem details after RFC 9457. */
import { z } from "zod";
import type { Problem } from "@/lib/result";

export const ProblemDetails = z.object({
  type: z.string().describe("Names the rule that refused: urn:bothends:problem:RULE."),
  title: z.string().describe("The rule in words."),
  status: z.int().describe("The HTTP status."),
  detail: z.string().describe("What is wrong and what to do about it."),
  problems: z
    .array(
      z.object({
        path: z.string().describe("Where: a field, a line, or empty."),
        rule: z.string().describe("The rule, as a short stable key."),
        value: z.unknown().optional().describe("The value as it was given."),
        message: z.string().describe("What is wrong."),
        remedy: z.string().describe("What to do about it."),
      }),
    )
    .describe("Everything that is wrong, each by itself."),
});

/** Statuses by rule; what the input schema refuses is 400, and whatever the trade refuses 422. */
const STATUS_OF_RULE: Readonly<Record<string, number>> = {
  "key-missing": 401,
  "key-unknown": 401,
  "key-expired": 401,
  "key-scope": 403,
  "order-unknown": 404,
  "no-plan": 409,
  "order-state": 409,
  "key-used-elsewhere": 409,
  "body-too-large": 413,
  "too-many-attempts": 429,
  "too-many-requests": 429,
  "idempotency-key-missing": 400,
  "body-no-json": 400,
};

function statusOf(rule: string): number {
  return STATUS_OF_RULE[rule] ?? (rule.startsWith("input-") ? 400 : 422);
}

export function problemAnswer(problems: readonly Problem[], headers: Record<string, string> = {}): Response {
  const first = problems[0]!;
  const words = first.rule.replaceAll("-", " ");
  const body: z.input<typeof ProblemDetails> = {
    type: `urn:bothends:problem:${first.rule}`,
    title: `${words.charAt(0).toUpperCase()}${words.slice(1)}`,
    status: statusOf(first.rule),
    detail: `${first.message} ${first.remedy}`,
    problems: problems.map(({ path, rule, value, message, remedy }) => ({
      path,
      rule,
      value,
      message,
      remedy,
    })),
  };
  return new Response(JSON.stringify(body), {
    status: body.status,
    headers: { "Content-Type": "application/problem+json", "Cache-Control": "no-store", ...headers },
  });
}
