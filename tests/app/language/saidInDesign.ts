import { DEVICES } from "@/app/(work)/account/sessionWords";
import { PEOPLE } from "@/app/_server/roles";
import { VOID } from "@/app/_server/invitations";

/** Texts that pages of the area design say through a variable. */
export const SAID_IN_DESIGN: readonly string[] = [
  ...DEVICES,
  ...Object.values(PEOPLE),
  ...[VOID].flatMap((p) => [p.message, p.remedy]),
  // Refusals that every action may give (carryOut.ts).
  "You are not signed in, or your session has ended.",
  "Sign in, then try again.",
  "This key was used before for something else, so nothing was changed.",
  "Reload the page and try again.",
  "Correct this value and send it again.",
  // The account page's head and dialogs.
  "rollout manager",
  ...["Turn on the second factor", "New backup codes", "Turn off the second factor?"],
];
