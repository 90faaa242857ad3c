"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { addView, changeView, ownView, removeView, viewsOf } from "@/db/queries/savedViews";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, refused, sentences } from "@/lib/result";
import { viewQuery } from "./viewQuery";

const MOST = 60;

const name = z
  .string()
  .transform((text) => text.trim().replace(/\s+/g, " "))
  .pipe(z.string().min(1, "a name, such as Late in the north").max(60, "at most 60 letters"));
const list = z.enum(["sites", "hops", "plan", "stock", "kits"]);

const taken = (value: string): Problem => ({
  path: "name",
  rule: "name-taken",
  value,
  ...sentences(
    phrase("You keep a view called {{value}} of this list already.", { value: String(value) }),
    phrase("Choose another name, or replace it."),
  ),
});

const noView = (id: number): Problem => ({
  path: "id",
  rule: "no-such-view",
  value: id,
  ...sentences(phrase("You do not keep this view any more."), phrase("Open the list anew.")),
});

/** Keeps the view that an address shows, by name; `replaces`: over one's own of the same name. */
export const keepView = defineAction({
  name: "keep-view",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({
    list,
    name,
    query: z.string().max(2000, "at most 2,000 letters").transform(viewQuery),
    replaces: z.boolean().default(false),
  }),
  run: ({ list: kind, name: called, query, replaces }, { db, visitor, now }) => {
    const own = viewsOf(db, visitor.userId, kind);
    const same = own.find((v) => v.name === called);
    if (same && !replaces) return refused(taken(called));
    if (same) {
      changeView(db, same.id, { query, savedAt: now });
      return ok({ id: same.id });
    }
    if (own.length >= MOST) {
      return refused({
        path: "name",
        rule: "too-many-views",
        value: own.length,
        ...sentences(
          phrase("You keep {{value}} views of this list, which is the most.", { value: String(own.length) }),
          phrase("Delete one that you no longer use."),
        ),
      });
    }
    return ok({ id: addView(db, { userId: visitor.userId, list: kind, name: called, query, savedAt: now }) });
  },
});

export const renameView = defineAction({
  name: "rename-view",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({ id: z.number().int().positive(), name }),
  run: ({ id, name: called }, { db, visitor, now }) => {
    const view = ownView(db, visitor.userId, id);
    if (!view) return refused(noView(id));
    const same = viewsOf(db, visitor.userId, view.list).find((v) => v.name === called && v.id !== id);
    if (same) return refused(taken(called));
    changeView(db, id, { name: called, savedAt: now });
    return ok({ id });
  },
});

export const deleteView = defineAction({
  name: "delete-view",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({ id: z.number().int().positive() }),
  run: ({ id }, { db, visitor }) => {
    if (!ownView(db, visitor.userId, id)) return refused(noView(id));
    removeView(db, id);
    return ok({ id });
  },
});
