"use server";

import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { noteFailure, noteSuccess, rests } from "@/app/_server/attempts";
import { auth, PASSWORD_LENGTH_MIN } from "@/app/_server/auth";
import { addLogEntry } from "@/db/queries/reports";
import { ok, type Problem, refused } from "@/lib/result";

const WRONG: Problem = {
  path: "Current password",
  rule: "wrong-password",
  message: "This is not your current password.",
  remedy: "Type it again; if it is lost, ask an administrator for a new one.",
};

const RESTS: Problem = {
  path: "Current password",
  rule: "too-many-attempts",
  message: "Too many wrong passwords.",
  remedy: "Wait 15 minutes, then try again.",
};

/** Everybody's own password. better-auth checks the current one; sessions elsewhere end. */
export const changeOwnPassword = defineAction({
  name: "change-own-password",
  roles: [],
  changesData: false,
  input: z
    .object({
      current: z.string().min(1, "Type your current password.").max(128),
      next: z
        .string()
        .min(PASSWORD_LENGTH_MIN, `The new password needs at least ${PASSWORD_LENGTH_MIN} characters.`)
        .max(128, "The new password may have 128 characters at most."),
      again: z.string().max(128),
    })
    .superRefine(({ current, next, again }, ctx) => {
      const note = (path: string, message: string) =>
        ctx.addIssue({ code: "custom", path: [path], message, input: undefined });
      if (again !== next) note("again", "The two new passwords differ.");
      if (next === current) note("next", "The new password is the current one.");
    }),
  prepare: async ({ current, next }, { db, visitor }) => {
    // Wrong current passwords count like failed sign-ins: an open screen is no place to guess.
    if (rests(db, "sign-in by name", visitor.email)) return refused(RESTS);
    try {
      await auth().api.changePassword({
        body: { currentPassword: current, newPassword: next, revokeOtherSessions: true },
        headers: await headers(),
      });
    } catch (thrown) {
      if (!(thrown instanceof APIError) || thrown.body?.code !== "INVALID_PASSWORD") throw thrown;
      noteFailure(db, "sign-in by name", visitor.email);
      return refused(WRONG);
    }
    noteSuccess(db, "sign-in by name", visitor.email);
    return ok(undefined);
  },
  run: (_input, { db, visitor, now }) => {
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "change own password",
      subject: `account:${visitor.userId}`,
    });
    return ok(null);
  },
});
