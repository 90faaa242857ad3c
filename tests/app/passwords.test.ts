import { describe, expect, it } from "vitest";
import { isGuessable } from "@/app/_server/passwords";

describe("a password that is among the first tried", () => {
  it.each([
    "1234567890",
    "0987654321",
    "qwertzuiop",
    "QWERTYUIOP",
    "zyxwvutsrq",
    "aaaaabbbbb",
    "Password123!",
    "passwort2026",
    "bothends-1",
  ])("%s", (one) => {
    expect(isGuessable(one)).toBe(true);
  });
  it.each(["both-ends-demo", "second-password", "heron lifts a drum", "k7#Vq2!mZp", "12345-tower-67890"])(
    "is not %s",
    (one) => {
      expect(isGuessable(one)).toBe(false);
    },
  );
});
