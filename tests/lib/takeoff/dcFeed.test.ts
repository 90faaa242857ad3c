import { describe, expect, it } from "vitest";
import { voltageAtOdu, warmLoopOhm } from "@/lib/takeoff/dcFeed";

describe("voltageAtOdu", () => {
  it("loses nothing without resistance or without load", () => {
    expect(voltageAtOdu(48, 0, 40)).toBe(48);
    expect(voltageAtOdu(48, 2, 0)).toBe(48);
  });

  it("balances: the power drawn plus the power lost is what the supply gives", () => {
    const voltageV = voltageAtOdu(43.2, 1.7, 42)!;
    const currentA = 42 / voltageV;
    expect(voltageV + currentA * 1.7).toBeCloseTo(43.2, 9);
  });
});

describe("warmLoopOhm", () => {
  it("is the catalogue's figure at 20 degC and grows with length and temperature", () => {
    expect(warmLoopOhm(3.3, 100, 20)).toBeCloseTo(3.3, 12);
    expect(warmLoopOhm(3.3, 47, 50)).toBeCloseTo(3.3 * 0.47 * 1.1179, 9);
  });
});
