/** The demonstration's accounts, as tests and pictures sign in. */
export const PASSWORD = "both-ends-demo";

export const EMAILS = {
  administrator: "administrator@bothends.example",
  manager: "manager@bothends.example",
  logistics: "logistics@bothends.example",
  "crew lead": "crewlead@bothends.example",
} as const;

export type TestRole = keyof typeof EMAILS;
