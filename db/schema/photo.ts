/** Photos that crews took on visits. The pictures are files of the data folder (db/photoFiles.ts); a row says what each is. */
import { sql } from "drizzle-orm";
import { check, index, integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { hop } from "./design";

export const visitPhoto = sqliteTable(
  "visit_photo",
  {
    /** Made on the phone, 32 hexadecimal digits: however often it is sent, it is kept once. Names the file. */
    key: text("key").primaryKey(),
    visitId: text("visit_id").notNull(),
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, { onUpdate: "cascade", onDelete: "cascade" }),
    /** Of lib/photos. */
    subject: text("subject").notNull(),
    widthPx: integer("width_px").notNull(),
    heightPx: integer("height_px").notNull(),
    sizeBytes: integer("size_bytes").notNull(),
    /** Of the file as kept, hexadecimal: a copy can be checked. */
    sha256: text("sha256").notNull(),
    /** By the phone's clock. */
    takenAt: integer("taken_at").notNull(),
    sentBy: text("sent_by").notNull(),
    receivedAt: integer("received_at").notNull(),
  },
  (t) => [
    index("visit_photo_visit").on(t.visitId),
    index("visit_photo_hop").on(t.hopCode),
    check("visit_photo_key", sql`length(${t.key}) = 32 AND ${t.key} NOT GLOB '*[^0-9a-f]*'`),
    check("visit_photo_size", sql`${t.widthPx} > 0 AND ${t.heightPx} > 0 AND ${t.sizeBytes} > 0`),
  ],
);
