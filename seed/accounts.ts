/** The four people of the demonstration. Invented; the sign-in names end in a domain that cannot exist. */
import type { Db } from "@/db/open";
import { createAccount } from "@/db/queries/accounts";
import { writeSetting } from "@/db/queries/settings";
import type { Role } from "@/db/schema/auth";
import type { InstantMillis } from "@/lib/time";

/** Shown on the sign-in page of every demonstration: it protects nothing but invented data. */
export const DEMO_PASSWORD = "both-ends-demo";

/** `DEMO_PASSWORD` hashed once (scrypt, as better-auth does it): loading stays quick and gives the same rows. */
const DEMO_PASSWORD_HASH =
  "626f7468656e64732d64656d6f2d7331:" +
  "9046884479330194f7130b1a4b284621873b34071be4c8e782f1fae89f2f48f7" +
  "8560d4c9a4e91f06c96ac434b93174e5759eca4c44213b8c0bee7cb3cdb77b53";

export interface DemoAccount {
  id: string;
  name: string;
  email: string;
  role: Role;
  crewId: string | null;
}

export const DEMO_ACCOUNTS: readonly DemoAccount[] = [
  {
    id: "user-administrator",
    name: "Ada Thornquist",
    email: "administrator@bothends.example",
    role: "administrator",
    crewId: null,
  },
  {
    id: "user-manager",
    name: "Marek Oduya",
    email: "manager@bothends.example",
    role: "manager",
    crewId: null,
  },
  {
    id: "user-logistics",
    name: "Lin Vasquez",
    email: "logistics@bothends.example",
    role: "logistics",
    crewId: null,
  },
  {
    id: "user-crew-lead",
    name: "Jonah Petrenko",
    email: "crewlead@bothends.example",
    role: "crew lead",
    crewId: "C1",
  },
];

export function loadAccounts(db: Db, now: InstantMillis): void {
  for (const person of DEMO_ACCOUNTS) {
    const made = createAccount(db, { ...person, passwordHash: DEMO_PASSWORD_HASH, now });
    if (!made.ok) throw new Error(made.problems[0]?.message);
  }
  writeSetting(db, "demoPassword", DEMO_PASSWORD);
  writeSetting(
    db,
    "demoAccounts",
    DEMO_ACCOUNTS.map(({ email }) => email),
  );
}
