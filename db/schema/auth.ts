/** Accounts and sessions. The shape is better-auth's; `role`, `crewId` and `disabledAt` are this project's own. */
import { index, integer, sqliteTable, text, uniqueIndex } from "drizzle-orm/sqlite-core";
import { id, instant, json, oneOf, yesNo } from "./columns";

/** Who may do what: app/_server/roles.ts says which areas each opens. */
export const ROLES = ["administrator", "manager", "logistics", "crew lead"] as const;
export type Role = (typeof ROLES)[number];

/** better-auth reads and writes these as Date. */
const moment = () => integer({ mode: "timestamp_ms" });

export const user = sqliteTable("user", {
  id: id(),
  name: text().notNull(),
  /** The sign-in name, lower case. */
  email: text().notNull().unique(),
  emailVerified: yesNo().notNull().default(false),
  image: text(),
  role: oneOf(ROLES).notNull(),
  /** The crew that a crew lead reports for; null for the other roles. */
  crewId: text(),
  /** Set when an administrator closed the account: no sign-in from then on, the history keeps its name. */
  disabledAt: instant(),
  /** Regions of sites that the person works with; null for all of them. */
  regions: json<string[]>(),
  /** Whether signing in asks for a code besides the password; better-auth's. */
  twoFactorEnabled: yesNo().notNull().default(false),
  createdAt: moment().notNull(),
  updatedAt: moment().notNull(),
});

export const session = sqliteTable(
  "session",
  {
    id: id(),
    token: text().notNull(),
    userId: text()
      .notNull()
      .references(() => user.id, { onDelete: "cascade" }),
    expiresAt: moment().notNull(),
    ipAddress: text(),
    userAgent: text(),
    createdAt: moment().notNull(),
    updatedAt: moment().notNull(),
  },
  (t) => [uniqueIndex("session_token").on(t.token), index("session_user").on(t.userId)],
);

export const account = sqliteTable(
  "account",
  {
    id: id(),
    accountId: text().notNull(),
    providerId: text().notNull(),
    userId: text()
      .notNull()
      .references(() => user.id, { onDelete: "cascade" }),
    /** scrypt hash for the provider "credential". */
    password: text(),
    accessToken: text(),
    refreshToken: text(),
    idToken: text(),
    accessTokenExpiresAt: moment(),
    refreshTokenExpiresAt: moment(),
    scope: text(),
    createdAt: moment().notNull(),
    updatedAt: moment().notNull(),
  },
  (t) => [index("account_user").on(t.userId)],
);

export const verification = sqliteTable(
  "verification",
  {
    id: id(),
    identifier: text().notNull(),
    value: text().notNull(),
    expiresAt: moment().notNull(),
    createdAt: moment().notNull(),
    updatedAt: moment().notNull(),
  },
  (t) => [index("verification_identifier").on(t.identifier)],
);

/** The second factor of a person; better-auth's, both secrets encrypted with the installation's own. */
export const twoFactor = sqliteTable(
  "two_factor",
  {
    id: id(),
    secret: text().notNull(),
    backupCodes: text().notNull(),
    userId: text()
      .notNull()
      .references(() => user.id, { onDelete: "cascade" }),
    /** False until a first code has proved that the secret arrived. */
    verified: yesNo().notNull().default(true),
    failedVerificationCount: integer().notNull().default(0),
    lockedUntil: moment(),
  },
  (t) => [uniqueIndex("two_factor_user").on(t.userId)],
);

/** A one-time address under which a person chooses a password: the first, or one in place of a lost one. */
export const invitation = sqliteTable("invitation", {
  userId: text()
    .primaryKey()
    .references(() => user.id, { onDelete: "cascade" }),
  /** SHA-256 of the secret, hexadecimal. */
  secretHash: text().notNull(),
  madeAt: instant().notNull(),
  expiresAt: instant().notNull(),
});

/** What a key of the open interface may do. */
export const SCOPES = ["read needs", "read stock", "read orders", "post receipts"] as const;
export type Scope = (typeof SCOPES)[number];

/** A key by which another program, such as a company's purchasing, uses the open interface. */
export const interfaceKey = sqliteTable("interface_key", {
  id: id(),
  /** What it is for; stands in the ledger and the log where it acted. */
  name: text().notNull(),
  /** SHA-256 of the secret, hexadecimal. */
  secretHash: text().notNull(),
  scopes: json<Scope[]>().notNull(),
  madeBy: text().notNull(),
  madeAt: instant().notNull(),
  /** Null: until it is revoked. */
  expiresAt: instant(),
  lastUsedAt: instant(),
  revokedAt: instant(),
  revokedBy: text(),
});

/** What is tried too often rests for a while: a sign-in name, a network address. */
export const ATTEMPT_KINDS = [
  "sign-in by name",
  "sign-in by address",
  "calendar by address",
  "invitation by address",
  "interface by address",
] as const;
export type AttemptKind = (typeof ATTEMPT_KINDS)[number];

/** Failed attempts of the last minutes: slows down guessing at a password or a secret address. */
export const failedAttempt = sqliteTable(
  "failed_attempt",
  {
    id: integer().primaryKey(),
    kind: oneOf(ATTEMPT_KINDS).notNull(),
    /** The name, in lower case, or the address. */
    subject: text().notNull(),
    at: instant().notNull(),
  },
  (t) => [index("failed_attempt_subject").on(t.kind, t.subject, t.at)],
);
