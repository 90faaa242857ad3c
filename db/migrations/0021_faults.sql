CREATE TABLE `fault` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`key` text NOT NULL,
	`item_code` text NOT NULL,
	`serial` text,
	`owner` text NOT NULL,
	`quantity_c` integer NOT NULL,
	`cause` text NOT NULL,
	`symptom` text NOT NULL,
	`found_on` text NOT NULL,
	`visit_id` text,
	`supplier` text NOT NULL,
	`warehouse_code` text NOT NULL,
	`expected_back_on` text,
	`reference` text DEFAULT '' NOT NULL,
	`recorded_by` text NOT NULL,
	`recorded_at` integer NOT NULL,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`warehouse_code`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "fault_owner" CHECK("fault"."owner" IN ('contractor','customer')),
	CONSTRAINT "fault_cause" CHECK("fault"."cause" IN ('dead on arrival','failed in service','doubtful')),
	CONSTRAINT "fault_quantity" CHECK("fault"."quantity_c" > 0 AND ("fault"."serial" IS NULL OR "fault"."quantity_c" = 100)),
	CONSTRAINT "fault_serial_word" CHECK("fault"."serial" IS NULL OR length("fault"."serial") > 0),
	CONSTRAINT "fault_symptom" CHECK(length("fault"."symptom") > 0)
);
--> statement-breakpoint
CREATE UNIQUE INDEX `fault_key` ON `fault` (`key`);--> statement-breakpoint
CREATE INDEX `fault_item` ON `fault` (`item_code`);--> statement-breakpoint
CREATE INDEX `fault_serial` ON `fault` (`serial`);--> statement-breakpoint
CREATE TABLE `spare_rule` (
	`item_code` text NOT NULL,
	`place_code` text NOT NULL,
	`fixed_quantity` integer,
	`service_level` real,
	`reason` text NOT NULL,
	`changed_by` text NOT NULL,
	`changed_at` integer NOT NULL,
	PRIMARY KEY(`item_code`, `place_code`),
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`place_code`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "spare_rule_one" CHECK(("spare_rule"."fixed_quantity" IS NULL) <> ("spare_rule"."service_level" IS NULL)),
	CONSTRAINT "spare_rule_fixed" CHECK("spare_rule"."fixed_quantity" IS NULL OR "spare_rule"."fixed_quantity" BETWEEN 0 AND 10000),
	CONSTRAINT "spare_rule_level" CHECK("spare_rule"."service_level" IS NULL OR ("spare_rule"."service_level" > 0 AND "spare_rule"."service_level" < 1)),
	CONSTRAINT "spare_rule_reason" CHECK(length("spare_rule"."reason") > 0)
);
--> statement-breakpoint
PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_movement` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`key` text NOT NULL,
	`kind` text NOT NULL,
	`item_code` text NOT NULL,
	`lot_code` text,
	`drum_serial` text,
	`serial` text,
	`owner` text NOT NULL,
	`from_place` text,
	`to_place` text,
	`quantity_c` integer NOT NULL,
	`effective_on` text NOT NULL,
	`posted_at` integer NOT NULL,
	`corrects_id` integer,
	`order_code` text,
	`visit_id` text,
	`run_id` text,
	`fault_id` integer,
	`reason` text NOT NULL,
	`posted_by` text NOT NULL,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`lot_code`) REFERENCES `lot`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`drum_serial`) REFERENCES `drum`(`serial`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`from_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`to_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`corrects_id`) REFERENCES `movement`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`fault_id`) REFERENCES `fault`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "movement_serial_one" CHECK("__new_movement"."serial" IS NULL OR ("__new_movement"."quantity_c" = 100 AND "__new_movement"."drum_serial" IS NULL AND length("__new_movement"."serial") > 0)),
	CONSTRAINT "movement_quantity" CHECK("__new_movement"."quantity_c" > 0),
	CONSTRAINT "movement_places" CHECK("__new_movement"."from_place" IS NOT NULL OR "__new_movement"."to_place" IS NOT NULL),
	CONSTRAINT "movement_moves" CHECK("__new_movement"."from_place" IS NULL OR "__new_movement"."to_place" IS NULL OR "__new_movement"."from_place" <> "__new_movement"."to_place"),
	CONSTRAINT "movement_kind" CHECK("__new_movement"."kind" IN ('receipt','issue','return','transfer','cut','count adjustment','scrap','installed','quality hold','release','to repair','from repair','exchange','reversal')),
	CONSTRAINT "movement_reversal" CHECK(("__new_movement"."kind" = 'reversal') = ("__new_movement"."corrects_id" IS NOT NULL)),
	CONSTRAINT "movement_owner" CHECK("__new_movement"."owner" IN ('contractor','customer'))
);
--> statement-breakpoint
INSERT INTO `__new_movement`("id", "key", "kind", "item_code", "lot_code", "drum_serial", "owner", "from_place", "to_place", "quantity_c", "effective_on", "posted_at", "corrects_id", "order_code", "visit_id", "run_id", "reason", "posted_by") SELECT "id", "key", "kind", "item_code", "lot_code", "drum_serial", "owner", "from_place", "to_place", "quantity_c", "effective_on", "posted_at", "corrects_id", "order_code", "visit_id", "run_id", "reason", "posted_by" FROM `movement`;--> statement-breakpoint
DROP TABLE `movement`;--> statement-breakpoint
ALTER TABLE `__new_movement` RENAME TO `movement`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE UNIQUE INDEX `movement_key` ON `movement` (`key`);--> statement-breakpoint
CREATE INDEX `movement_item` ON `movement` (`item_code`,`effective_on`);--> statement-breakpoint
CREATE INDEX `movement_drum` ON `movement` (`drum_serial`);--> statement-breakpoint
CREATE INDEX `movement_visit` ON `movement` (`visit_id`);--> statement-breakpoint
CREATE INDEX `movement_from` ON `movement` (`item_code`,`from_place`,`effective_on`);--> statement-breakpoint
CREATE INDEX `movement_to` ON `movement` (`item_code`,`to_place`,`effective_on`);--> statement-breakpoint
CREATE UNIQUE INDEX `movement_corrects` ON `movement` (`corrects_id`);--> statement-breakpoint
CREATE INDEX `movement_serial` ON `movement` (`serial`,`effective_on`);--> statement-breakpoint
CREATE INDEX `movement_fault` ON `movement` (`fault_id`);--> statement-breakpoint
CREATE TABLE `__new_place` (
	`code` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`lat_deg` real,
	`lon_deg` real,
	CONSTRAINT "place_kind" CHECK("__new_place"."kind" IN ('warehouse','vehicle','site','hold','repair')),
	CONSTRAINT "place_position" CHECK(("__new_place"."lat_deg" IS NULL) = ("__new_place"."lon_deg" IS NULL))
);
--> statement-breakpoint
INSERT INTO `__new_place`("code", "name", "kind", "lat_deg", "lon_deg") SELECT "code", "name", "kind", "lat_deg", "lon_deg" FROM `place`;--> statement-breakpoint
DROP TABLE `place`;--> statement-breakpoint
ALTER TABLE `__new_place` RENAME TO `place`;
--> statement-breakpoint
-- A table that is laid anew loses its triggers: those of 0002_ledger and 0004_ledger_days again, a reversal with the serial.
CREATE TRIGGER movement_no_update BEFORE UPDATE ON movement
BEGIN
  SELECT RAISE(ABORT, 'ledger rows are never changed: post a reversal');
END;
--> statement-breakpoint
CREATE TRIGGER movement_no_delete BEFORE DELETE ON movement
BEGIN
  SELECT RAISE(ABORT, 'ledger rows are never deleted: post a reversal');
END;
--> statement-breakpoint
CREATE TRIGGER movement_lot_matches BEFORE INSERT ON movement
WHEN NEW.lot_code IS NOT NULL AND NOT EXISTS (SELECT 1 FROM lot WHERE code = NEW.lot_code AND item_code = NEW.item_code)
BEGIN
  SELECT RAISE(ABORT, 'the lot belongs to another item');
END;
--> statement-breakpoint
CREATE TRIGGER movement_drum_matches BEFORE INSERT ON movement
WHEN NEW.drum_serial IS NOT NULL AND NOT EXISTS (SELECT 1 FROM drum WHERE serial = NEW.drum_serial AND item_code = NEW.item_code)
BEGIN
  SELECT RAISE(ABORT, 'the drum holds another cable');
END;
--> statement-breakpoint
CREATE TRIGGER movement_cut_needs_drum BEFORE INSERT ON movement
WHEN NEW.kind = 'cut' AND (NEW.drum_serial IS NULL OR NEW.from_place IS NULL)
BEGIN
  SELECT RAISE(ABORT, 'a cut names its drum and its place');
END;
--> statement-breakpoint
CREATE TRIGGER movement_reversal_mirrors BEFORE INSERT ON movement
WHEN NEW.kind = 'reversal' AND NOT EXISTS (
  SELECT 1 FROM movement o
  WHERE o.id = NEW.corrects_id AND o.kind <> 'reversal'
    AND o.item_code = NEW.item_code AND o.quantity_c = NEW.quantity_c AND o.owner = NEW.owner
    AND o.lot_code IS NEW.lot_code AND o.drum_serial IS NEW.drum_serial AND o.serial IS NEW.serial
    AND o.fault_id IS NEW.fault_id
    AND o.from_place IS NEW.to_place AND o.to_place IS NEW.from_place
    AND NEW.effective_on >= o.effective_on)
BEGIN
  SELECT RAISE(ABORT, 'a reversal mirrors the row it corrects');
END;
--> statement-breakpoint
-- Whatever leaves a place must be there.
CREATE TRIGGER movement_on_hand BEFORE INSERT ON movement
WHEN NEW.from_place IS NOT NULL AND COALESCE((
  SELECT quantity_c FROM balance
  WHERE item_code = NEW.item_code AND place_code = NEW.from_place AND lot_code = COALESCE(NEW.lot_code, '')
    AND drum_serial = COALESCE(NEW.drum_serial, '') AND owner = NEW.owner), 0) < NEW.quantity_c
BEGIN
  SELECT RAISE(ABORT, 'on hand would fall below zero');
END;
--> statement-breakpoint
CREATE TRIGGER movement_balance AFTER INSERT ON movement
BEGIN
  UPDATE balance SET quantity_c = quantity_c - NEW.quantity_c
  WHERE NEW.from_place IS NOT NULL AND item_code = NEW.item_code AND place_code = NEW.from_place
    AND lot_code = COALESCE(NEW.lot_code, '') AND drum_serial = COALESCE(NEW.drum_serial, '') AND owner = NEW.owner;
  INSERT INTO balance (item_code, place_code, lot_code, drum_serial, owner, quantity_c)
  SELECT NEW.item_code, NEW.to_place, COALESCE(NEW.lot_code, ''), COALESCE(NEW.drum_serial, ''), NEW.owner, NEW.quantity_c
  WHERE NEW.to_place IS NOT NULL
  ON CONFLICT (item_code, place_code, lot_code, drum_serial, owner)
  DO UPDATE SET quantity_c = quantity_c + excluded.quantity_c;
  SELECT RAISE(ABORT, 'a drum is in one place: move all that is left on it')
  WHERE NEW.drum_serial IS NOT NULL
    AND (SELECT COUNT(*) FROM balance WHERE drum_serial = NEW.drum_serial AND quantity_c > 0) > 1;
  SELECT RAISE(ABORT, 'more cable than the drum was received with')
  WHERE NEW.drum_serial IS NOT NULL
    AND (SELECT COALESCE(SUM(quantity_c), 0) FROM balance WHERE drum_serial = NEW.drum_serial)
      > (SELECT received_c FROM drum WHERE serial = NEW.drum_serial);
END;
--> statement-breakpoint
CREATE TRIGGER movement_on_hand_later BEFORE INSERT ON movement
WHEN NEW.from_place IS NOT NULL AND EXISTS (
  SELECT 1 FROM movement m WHERE m.item_code = NEW.item_code AND m.effective_on > NEW.effective_on
    AND (m.from_place = NEW.from_place OR m.to_place = NEW.from_place))
BEGIN
  SELECT RAISE(ABORT, 'on hand would fall below zero on a later day')
  WHERE EXISTS (
    SELECT 1 FROM (
      SELECT m.effective_on AS d, SUM(CASE WHEN m.to_place = NEW.from_place THEN m.quantity_c ELSE -m.quantity_c END)
        OVER (ORDER BY m.effective_on, m.id) AS running
      FROM movement m
      WHERE m.item_code = NEW.item_code AND m.owner = NEW.owner
        AND m.lot_code IS NEW.lot_code AND m.drum_serial IS NEW.drum_serial
        AND (m.to_place = NEW.from_place OR m.from_place = NEW.from_place)
    )
    WHERE d > NEW.effective_on AND running < NEW.quantity_c
  ) OR (
    SELECT COALESCE(SUM(CASE WHEN m.to_place = NEW.from_place THEN m.quantity_c ELSE -m.quantity_c END), 0)
    FROM movement m
    WHERE m.item_code = NEW.item_code AND m.owner = NEW.owner
      AND m.lot_code IS NEW.lot_code AND m.drum_serial IS NEW.drum_serial
      AND (m.to_place = NEW.from_place OR m.from_place = NEW.from_place)
      AND m.effective_on <= NEW.effective_on
  ) < NEW.quantity_c;
END;
--> statement-breakpoint
CREATE TRIGGER movement_drum_received_once BEFORE INSERT ON movement
WHEN NEW.kind = 'receipt' AND NEW.drum_serial IS NOT NULL AND EXISTS (
  SELECT 1 FROM movement m WHERE m.drum_serial = NEW.drum_serial AND m.kind = 'receipt'
    AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id))
BEGIN
  SELECT RAISE(ABORT, 'the drum was already received');
END;
--> statement-breakpoint
CREATE TRIGGER movement_drum_one_place AFTER INSERT ON movement
WHEN NEW.drum_serial IS NOT NULL
BEGIN
  SELECT RAISE(ABORT, 'a drum is in one place: move all that is left on it')
  WHERE EXISTS (
    SELECT 1 FROM movement e
    WHERE e.drum_serial = NEW.drum_serial AND (
      SELECT COUNT(*) FROM (
        SELECT place FROM (
          SELECT i.to_place AS place, i.quantity_c AS q FROM movement i
          WHERE i.drum_serial = NEW.drum_serial AND i.to_place IS NOT NULL
            AND (i.effective_on < e.effective_on OR (i.effective_on = e.effective_on AND i.id <= e.id))
          UNION ALL
          SELECT o.from_place, -o.quantity_c FROM movement o
          WHERE o.drum_serial = NEW.drum_serial AND o.from_place IS NOT NULL
            AND (o.effective_on < e.effective_on OR (o.effective_on = e.effective_on AND o.id <= e.id))
        ) GROUP BY place HAVING SUM(q) > 0
      )
    ) > 1);
END;
--> statement-breakpoint
-- What is faulty is put on hold, mended at a repairer's, and comes back, is exchanged or thrown away: each way by its own
-- kind of row, so that no hold or repair is emptied or filled by mistake.
CREATE TRIGGER movement_hold_and_repair BEFORE INSERT ON movement
WHEN NEW.kind <> 'reversal'
BEGIN
  SELECT RAISE(ABORT, 'that kind of row does not go this way between shelves, hold and repair')
  WHERE NOT COALESCE((
    SELECT CASE NEW.kind
      WHEN 'quality hold' THEN toward = 'hold' AND COALESCE(away, '') NOT IN ('hold','repair')
      WHEN 'release' THEN away = 'hold' AND toward = 'warehouse'
      WHEN 'to repair' THEN away = 'hold' AND toward = 'repair'
      WHEN 'from repair' THEN away = 'repair' AND toward = 'warehouse'
      WHEN 'exchange' THEN (away = 'repair' AND toward IS NULL) OR (away IS NULL AND toward = 'warehouse')
      WHEN 'scrap' THEN 1
      WHEN 'count adjustment' THEN 1
      ELSE COALESCE(away, '') NOT IN ('hold','repair') AND COALESCE(toward, '') NOT IN ('hold','repair')
    END
    FROM (SELECT (SELECT kind FROM place WHERE code = NEW.from_place) AS away,
                 (SELECT kind FROM place WHERE code = NEW.to_place) AS toward)), 0);
END;
--> statement-breakpoint
-- A serial is one piece of one item and one owner, in one place. On hold and in repair it is followed; on shelves and
-- vehicles pieces are alike and leave without their serials being read.
CREATE TRIGGER movement_serial_follows BEFORE INSERT ON movement
WHEN NEW.serial IS NOT NULL
BEGIN
  SELECT RAISE(ABORT, 'the serial belongs to another item or owner')
  WHERE EXISTS (SELECT 1 FROM movement WHERE serial = NEW.serial AND (item_code <> NEW.item_code OR owner <> NEW.owner));
  SELECT RAISE(ABORT, 'the serial moved on a later day')
  WHERE EXISTS (SELECT 1 FROM movement WHERE serial = NEW.serial AND effective_on > NEW.effective_on);
  SELECT RAISE(ABORT, 'the serial is not there: it stands elsewhere')
  WHERE (SELECT p.kind IN ('hold','repair') AND p.code IS NOT NEW.from_place FROM place p WHERE p.code = (
      SELECT to_place FROM movement WHERE serial = NEW.serial ORDER BY effective_on DESC, id DESC LIMIT 1))
    OR ((SELECT kind FROM place WHERE code = NEW.from_place) IN ('hold','repair') AND NEW.from_place IS NOT (
      SELECT to_place FROM movement WHERE serial = NEW.serial ORDER BY effective_on DESC, id DESC LIMIT 1));
  SELECT RAISE(ABORT, 'the serial is in stock already')
  WHERE NEW.kind <> 'quality hold' AND NEW.from_place IS NULL AND (
    SELECT to_place FROM movement WHERE serial = NEW.serial ORDER BY effective_on DESC, id DESC LIMIT 1) IS NOT NULL;
END;
--> statement-breakpoint
-- What leaves a hold or a repair without a serial may not be one of the pieces that stand there with theirs.
CREATE TRIGGER movement_serials_stay BEFORE INSERT ON movement
WHEN NEW.serial IS NULL AND NEW.drum_serial IS NULL AND NEW.from_place IS NOT NULL
  AND (SELECT kind FROM place WHERE code = NEW.from_place) IN ('hold','repair')
BEGIN
  SELECT RAISE(ABORT, 'what is left there has serials: name the serial')
  WHERE (SELECT COALESCE(SUM(quantity_c), 0) FROM balance WHERE item_code = NEW.item_code AND place_code = NEW.from_place
           AND owner = NEW.owner AND drum_serial = '') - NEW.quantity_c < 100 * (
    SELECT COUNT(*) FROM movement m
    WHERE m.serial IS NOT NULL AND m.item_code = NEW.item_code AND m.owner = NEW.owner AND m.to_place = NEW.from_place
      AND NOT EXISTS (SELECT 1 FROM movement l WHERE l.serial = m.serial
        AND (l.effective_on > m.effective_on OR (l.effective_on = m.effective_on AND l.id > m.id))));
END;
