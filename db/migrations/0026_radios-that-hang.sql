CREATE TABLE `hung_unit` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`key` text NOT NULL,
	`serial` text NOT NULL,
	`item_code` text NOT NULL,
	`hop_code` text NOT NULL,
	`side` text NOT NULL,
	`odu_label` text NOT NULL,
	`hung_on` text NOT NULL,
	`visit_id` text,
	`recorded_by` text NOT NULL,
	`recorded_at` integer NOT NULL,
	`ended_on` text,
	`ended_why` text,
	`ended_by` text,
	`ended_at` integer,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "hung_serial_word" CHECK(length("hung_unit"."serial") > 0),
	CONSTRAINT "hung_side" CHECK("hung_unit"."side" IN ('near','far')),
	CONSTRAINT "hung_days" CHECK("hung_unit"."ended_on" IS NULL OR "hung_unit"."ended_on" >= "hung_unit"."hung_on"),
	CONSTRAINT "hung_ended" CHECK(("hung_unit"."ended_on" IS NULL) = ("hung_unit"."ended_why" IS NULL) AND ("hung_unit"."ended_on" IS NULL) = ("hung_unit"."ended_at" IS NULL)),
	CONSTRAINT "hung_why" CHECK("hung_unit"."ended_why" IS NULL OR "hung_unit"."ended_why" IN ('faulty','exchanged','moved','written wrong'))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `hung_key` ON `hung_unit` (`key`);--> statement-breakpoint
CREATE INDEX `hung_serial` ON `hung_unit` (`serial`);--> statement-breakpoint
CREATE UNIQUE INDEX `hung_once` ON `hung_unit` (`serial`) WHERE "hung_unit"."ended_on" IS NULL;--> statement-breakpoint
CREATE UNIQUE INDEX `hung_one` ON `hung_unit` (`hop_code`,`side`,`odu_label`) WHERE "hung_unit"."ended_on" IS NULL;