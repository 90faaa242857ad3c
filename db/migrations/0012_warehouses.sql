CREATE TABLE `plan_transfer` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`plan_id` integer NOT NULL,
	`item_code` text NOT NULL,
	`from_place` text NOT NULL,
	`to_place` text NOT NULL,
	`quantity_c` integer NOT NULL,
	`send_on` text NOT NULL,
	`arrive_on` text NOT NULL,
	`days_late` integer NOT NULL,
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "plan_transfer_moves" CHECK("plan_transfer"."from_place" <> "plan_transfer"."to_place" AND "plan_transfer"."quantity_c" > 0)
);
--> statement-breakpoint
CREATE INDEX `plan_transfer_plan` ON `plan_transfer` (`plan_id`,`item_code`);--> statement-breakpoint
CREATE TABLE `stock_transfer` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`item_code` text NOT NULL,
	`from_place` text NOT NULL,
	`to_place` text NOT NULL,
	`quantity_c` integer NOT NULL,
	`send_on` text NOT NULL,
	`arrive_on` text NOT NULL,
	`state` text NOT NULL,
	`planned_by` text NOT NULL,
	`planned_at` integer NOT NULL,
	`ended_by` text,
	`ended_at` integer,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`from_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`to_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "stock_transfer_state_word" CHECK("stock_transfer"."state" IN ('planned','moved','cancelled')),
	CONSTRAINT "stock_transfer_moves" CHECK("stock_transfer"."from_place" <> "stock_transfer"."to_place" AND "stock_transfer"."quantity_c" > 0),
	CONSTRAINT "stock_transfer_days" CHECK("stock_transfer"."send_on" <= "stock_transfer"."arrive_on"),
	CONSTRAINT "stock_transfer_ended" CHECK(("stock_transfer"."state" = 'planned') = ("stock_transfer"."ended_at" IS NULL))
);
--> statement-breakpoint
CREATE INDEX `stock_transfer_state` ON `stock_transfer` (`state`,`item_code`);--> statement-breakpoint
PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_policy` (
	`kind` text NOT NULL,
	`version` integer NOT NULL,
	`body` text NOT NULL,
	`changed_by` text NOT NULL,
	`changed_at` integer NOT NULL,
	`reason` text NOT NULL,
	PRIMARY KEY(`kind`, `version`),
	CONSTRAINT "policy_version" CHECK("__new_policy"."version" >= 1),
	CONSTRAINT "policy_kind" CHECK("__new_policy"."kind" IN ('takeoff policy','takeoff rules','hour norms','weather limits','plan weights','cutting','stock'))
);
--> statement-breakpoint
INSERT INTO `__new_policy`("kind", "version", "body", "changed_by", "changed_at", "reason") SELECT "kind", "version", "body", "changed_by", "changed_at", "reason" FROM `policy`;--> statement-breakpoint
DROP TABLE `policy`;--> statement-breakpoint
ALTER TABLE `__new_policy` RENAME TO `policy`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE TABLE `__new_plan_netting` (
	`plan_id` integer NOT NULL,
	`item_code` text NOT NULL,
	`place_code` text DEFAULT '' NOT NULL,
	`runs_out_on` text,
	`on_hand_c` integer NOT NULL,
	`total_need_c` integer NOT NULL,
	`body` text NOT NULL,
	PRIMARY KEY(`plan_id`, `item_code`, `place_code`),
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade
);
--> statement-breakpoint
INSERT INTO `__new_plan_netting`("plan_id", "item_code", "place_code", "runs_out_on", "on_hand_c", "total_need_c", "body") SELECT "plan_id", "item_code", '', "runs_out_on", "on_hand_c", "total_need_c", json_set("body", '$.stopsLeft', json_extract("body", '$.stops')) FROM `plan_netting`;--> statement-breakpoint
DROP TABLE `plan_netting`;--> statement-breakpoint
ALTER TABLE `__new_plan_netting` RENAME TO `plan_netting`;