CREATE TABLE `count_line` (
	`session_id` integer NOT NULL,
	`line_no` integer NOT NULL,
	`item_code` text NOT NULL,
	`lot_code` text NOT NULL,
	`drum_serial` text NOT NULL,
	`owner` text NOT NULL,
	`counted_c` integer,
	`book_c` integer,
	`counted_by_id` text,
	`counted_by_name` text,
	`counted_at` integer,
	PRIMARY KEY(`session_id`, `line_no`),
	FOREIGN KEY (`session_id`) REFERENCES `count_session`(`id`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "count_line_amounts" CHECK("count_line"."counted_c" >= 0 AND "count_line"."book_c" >= 0),
	CONSTRAINT "count_line_whole" CHECK(("count_line"."counted_c" IS NULL) = ("count_line"."book_c" IS NULL) AND ("count_line"."counted_c" IS NULL) = ("count_line"."counted_by_id" IS NULL))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `count_line_thing` ON `count_line` (`session_id`,`item_code`,`lot_code`,`drum_serial`,`owner`);--> statement-breakpoint
CREATE INDEX `count_line_item` ON `count_line` (`item_code`);--> statement-breakpoint
CREATE TABLE `count_session` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`place_code` text NOT NULL,
	`state` text NOT NULL,
	`started_by` text NOT NULL,
	`started_at` integer NOT NULL,
	`counted_at` integer,
	`ended_by` text,
	`ended_at` integer,
	`note` text DEFAULT '' NOT NULL,
	FOREIGN KEY (`place_code`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "count_session_state" CHECK("count_session"."state" IN ('counting','counted','approved','cancelled')),
	CONSTRAINT "count_session_ended" CHECK(("count_session"."state" IN ('approved','cancelled')) = ("count_session"."ended_at" IS NOT NULL))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `count_session_open` ON `count_session` (`place_code`) WHERE "count_session"."state" IN ('counting','counted');