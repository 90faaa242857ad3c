/** Who may call what, and how far: the table that whoMay.test.ts holds the product to. */
import { ROLES, type Role } from "@/db/schema/auth";

const EVERYBODY = [...ROLES];
const ADMINISTRATORS: Role[] = ["administrator"];
const PLANNERS: Role[] = ["administrator", "manager"];
const OFFICE: Role[] = ["administrator", "manager", "logistics"];
const CREWS: Role[] = ["administrator", "manager", "crew lead"];
const STORE: Role[] = ["administrator", "logistics"];

/** Roles by file and export. `"public"`: for people who are not signed in, with checks of its own. */
export const MAY: Readonly<Record<string, Readonly<Record<string, readonly Role[] | "public">>>> = {
  "(work)/account/actions.ts": {
    beginSecondFactor: EVERYBODY,
    changeOwnPassword: EVERYBODY,
    confirmSecondFactor: EVERYBODY,
    endOtherSessions: EVERYBODY,
    endOwnSession: EVERYBODY,
    renewBackupCodes: EVERYBODY,
    turnOffSecondFactor: EVERYBODY,
  },
  "(work)/export/[kind]/route.ts": { GET: OFFICE },
  "(work)/export/programme.xlsx/route.ts": { GET: OFFICE },
  "(work)/export/template/[kind]/route.ts": { GET: OFFICE },
  "(work)/export/template/programme.xlsx/route.ts": { GET: OFFICE },
  "(work)/hops/[code]/actions.ts": {
    changeGate: PLANNERS,
    recordReadings: PLANNERS,
    withdrawRevisit: PLANNERS,
  },
  "(work)/import/[id]/refused/route.ts": { GET: OFFICE },
  "(work)/import/[id]/rows/route.ts": { GET: OFFICE },
  "(work)/import/actions.ts": {
    answerTable: OFFICE,
    applyImport: OFFICE,
    discard: OFFICE,
    leaveOutFile: OFFICE,
    openImport: OFFICE,
    previewImport: OFFICE,
    startCatalogue: OFFICE,
  },
  "(work)/jobs/actions.ts": { checkWorker: ADMINISTRATORS },
  "(work)/kits/actions.ts": { giveBack: OFFICE, issue: OFFICE, pick: OFFICE, undoIssue: OFFICE },
  "(work)/map/day/route.ts": { GET: EVERYBODY },
  "(work)/map/ground/actions.ts": {
    removeOutlines: ADMINISTRATORS,
    removeTiles: ADMINISTRATORS,
    setTiles: ADMINISTRATORS,
  },
  "(work)/map/outlines/route.ts": { GET: EVERYBODY },
  "(work)/photos/actions.ts": { deletePhoto: PLANNERS },
  "(work)/plan/actions.ts": {
    acceptGroupMove: PLANNERS,
    acceptVisitMove: PLANNERS,
    discardDraft: PLANNERS,
    pin: PLANNERS,
    putPlanInForce: PLANNERS,
    redoEdit: PLANNERS,
    solve: PLANNERS,
    undoEdit: PLANNERS,
  },
  "(work)/plan/changes/route.ts": { GET: PLANNERS },
  "(work)/plan/effect/route.ts": { GET: PLANNERS },
  "(work)/plan/export/route.ts": { GET: OFFICE },
  "(work)/plan/group-effect/route.ts": { GET: PLANNERS },
  "(work)/plan/visit/route.ts": { GET: EVERYBODY },
  "(work)/plan/why/route.ts": { GET: PLANNERS },
  "(work)/programme/finish/actions.ts": { assess: OFFICE },
  "(work)/programme/hours/actions.ts": { rejectProposals: PLANNERS },
  "(work)/programme/use/actions.ts": { rejectUse: STORE },
  "(work)/rules/actions.ts": {
    changeRole: ADMINISTRATORS,
    closeAccount: ADMINISTRATORS,
    createAccount: ADMINISTRATORS,
    endSessionsOf: ADMINISTRATORS,
    liftRest: ADMINISTRATORS,
    makeInterfaceKey: ADMINISTRATORS,
    removeCertificate: PLANNERS,
    removeLeave: PLANNERS,
    resetPassword: ADMINISTRATORS,
    resetSecondFactor: ADMINISTRATORS,
    revokeInterfaceKey: ADMINISTRATORS,
    saveRules: OFFICE,
    setCertificate: PLANNERS,
    setLeave: PLANNERS,
    showEffect: OFFICE,
  },
  "(work)/rules/log/route.ts": { GET: EVERYBODY },
  "(work)/stock/actions.ts": {
    approve: PLANNERS,
    change: OFFICE,
    close: OFFICE,
    cutRun: STORE,
    net: OFFICE,
    postpone: OFFICE,
    propose: OFFICE,
    receive: STORE,
    record: STORE,
    send: OFFICE,
    takeRowBack: STORE,
  },
  "(work)/stock/counts/actions.ts": {
    approve: PLANNERS,
    cancel: OFFICE,
    count: STORE,
    found: STORE,
    handIn: STORE,
    recount: OFFICE,
    start: STORE,
  },
  "(work)/stock/faults/actions.ts": { find: STORE, promise: STORE, takeStep: STORE },
  "(work)/stock/items/[code]/orderingActions.ts": { setOrdering: STORE },
  "(work)/stock/offcuts/actions.ts": { scrapRest: STORE },
  "(work)/stock/offcuts/file/route.ts": { GET: OFFICE },
  "(work)/stock/orders/[code]/csv/route.ts": { GET: OFFICE },
  "(work)/stock/slip/route.ts": { GET: OFFICE },
  "(work)/stock/spares/actions.ts": { decide: OFFICE },
  "(work)/stock/transferActions.ts": { cancel: STORE, move: STORE, plan: STORE },
  "(work)/views/actions.ts": { deleteView: EVERYBODY, keepView: EVERYBODY, renameView: EVERYBODY },
  "(work)/week/actions.ts": { makeCalendar: CREWS, revokeCalendar: CREWS },
  "sw.js/route.ts": { GET: "public" },
  "api/map/outlines/route.ts": { POST: ADMINISTRATORS },
  "api/photos/[key]/route.ts": { GET: EVERYBODY, POST: CREWS },
  "api/reports/route.ts": { POST: CREWS },
  "api/find/route.ts": { GET: EVERYBODY },
  "api/health/route.ts": { GET: "public" },
  "api/imports/[id]/files/route.ts": { POST: OFFICE },
  "api/jobs/[id]/cancel/route.ts": { POST: EVERYBODY },
  "api/jobs/[id]/restart/route.ts": { POST: EVERYBODY },
  "api/jobs/[id]/route.ts": { GET: EVERYBODY },
  "api/jobs/[id]/stream/route.ts": { GET: EVERYBODY },
  // By key, not by session: tests/app/openInterface.test.ts holds each to its scope.
  "api/open/v1/needs/route.ts": { GET: "public" },
  "api/open/v1/openapi.json/route.ts": { GET: "public" },
  "api/open/v1/orders/[code]/receipts/route.ts": { POST: "public" },
  "api/open/v1/orders/[code]/route.ts": { GET: "public" },
  "api/open/v1/orders/route.ts": { GET: "public" },
  "api/open/v1/proposals/route.ts": { GET: "public" },
  "api/open/v1/stock/route.ts": { GET: "public" },
  "calendar/[file]/route.ts": { GET: "public" },
  "invitation/[secret]/actions.ts": { acceptInvitation: "public" },
  "setup/actions.ts": { setUpAdministrator: "public" },
  "sign-in/actions.ts": { enterCode: "public", signIn: "public", signOut: "public" },
};

const READINGS = [{ askedId: "level", value: -40 }];
const REPORT = {
  workedOn: "2026-03-16",
  outcome: "part done",
  workedMin: 60,
  holdReason: "",
  note: "",
  uses: [],
};
const PHOTO = { subject: "label", takenAt: 1, totalBytes: 10, crc32: "0".repeat(8), offset: 0 };
const hop = (hopCode: string) => ({ hopCode });
const visit = (hopCode: string) => ({ visitId: `${hopCode}/near/install` });
/**
 * What an account that is limited to regions reaches. `"any"`: it lies in no region; a function: the input that is
 * about a hop. What is not named here concerns the whole programme and is refused to such an account.
 */
export const REACH: Readonly<
  Record<string, Readonly<Record<string, "any" | ((hopCode: string) => object)>>>
> = {
  "(work)/account/actions.ts": {
    beginSecondFactor: "any",
    changeOwnPassword: "any",
    confirmSecondFactor: "any",
    endOtherSessions: "any",
    endOwnSession: "any",
    renewBackupCodes: "any",
    turnOffSecondFactor: "any",
  },
  "(work)/hops/[code]/actions.ts": {
    changeGate: (code) => ({
      ...hop(code),
      side: "both",
      kind: "site ready",
      state: "open",
      dueOn: "",
      seen: { state: "open", dueOn: "" },
    }),
    recordReadings: (code) => ({ ...hop(code), takenOn: "2026-03-16", note: "", readings: READINGS }),
    withdrawRevisit: (code) => ({ visitId: `${code}/near/install`, why: "not needed" }),
  },
  "(work)/kits/actions.ts": {
    giveBack: (code) => ({ ...visit(code), toPlace: "WH", key: "k".repeat(8), lines: [] }),
    issue: (code) => ({ ...visit(code), vehiclePlace: "V", counted: 1, countedBy: "Somebody" }),
    pick: (code) => ({ ...visit(code), lineNo: 1, quantity: 1 }),
    undoIssue: (code) => ({ ...visit(code), reason: "a reason" }),
  },
  "(work)/map/day/route.ts": { GET: "any" },
  "(work)/map/outlines/route.ts": { GET: "any" },
  "(work)/photos/actions.ts": { deletePhoto: (code) => ({ ...visit(code), key: "0".repeat(32) }) },
  "(work)/plan/actions.ts": {
    pin: (code) => ({ planId: 1, revision: 1, visitIds: [`${code}/near/install`], isPinned: true }),
  },
  "(work)/plan/visit/route.ts": { GET: (code) => ({ plan: 1, visit: `${code}/near/install` }) },
  "(work)/stock/actions.ts": { receive: "any", record: "any", takeRowBack: "any" },
  "(work)/stock/faults/actions.ts": { find: "any", promise: "any", takeStep: "any" },
  "(work)/stock/orders/[code]/csv/route.ts": { GET: "any" },
  "(work)/stock/slip/route.ts": { GET: "any" },
  "(work)/views/actions.ts": { deleteView: "any", keepView: "any", renameView: "any" },
  "api/find/route.ts": { GET: "any" },
  "api/photos/[key]/route.ts": { GET: "any", POST: (code) => ({ ...visit(code), ...PHOTO }) },
  "api/reports/route.ts": { POST: (code) => ({ ...visit(code), ...REPORT }) },
  "api/jobs/[id]/cancel/route.ts": { POST: "any" },
  "api/jobs/[id]/restart/route.ts": { POST: "any" },
  "api/jobs/[id]/route.ts": { GET: "any" },
  "api/jobs/[id]/stream/route.ts": { GET: "any" },
};
