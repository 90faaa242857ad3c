PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_visit_report` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`key` text NOT NULL,
	`visit_id` text NOT NULL,
	`hop_code` text NOT NULL,
	`crew_code` text NOT NULL,
	`worked_on` text NOT NULL,
	`outcome` text NOT NULL,
	`worked_min` real NOT NULL,
	`left_min` real,
	`hold_reason` text,
	`note` text DEFAULT '' NOT NULL,
	`reported_by` text NOT NULL,
	`reported_at` integer NOT NULL,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "visit_report_outcome" CHECK("__new_visit_report"."outcome" IN ('done','part done','hold')),
	CONSTRAINT "visit_report_hold" CHECK("__new_visit_report"."outcome" <> 'hold' OR length("__new_visit_report"."hold_reason") > 0),
	CONSTRAINT "visit_report_left" CHECK("__new_visit_report"."left_min" IS NULL OR ("__new_visit_report"."outcome" = 'part done' AND "__new_visit_report"."left_min" > 0 AND "__new_visit_report"."left_min" <= 10080)),
	CONSTRAINT "visit_report_minutes" CHECK("__new_visit_report"."worked_min" >= 0 AND "__new_visit_report"."worked_min" <= 10080)
);
--> statement-breakpoint
INSERT INTO `__new_visit_report`("id", "key", "visit_id", "hop_code", "crew_code", "worked_on", "outcome", "worked_min", "hold_reason", "note", "reported_by", "reported_at") SELECT "id", "key", "visit_id", "hop_code", "crew_code", "worked_on", "outcome", "worked_min", "hold_reason", "note", "reported_by", "reported_at" FROM `visit_report`;--> statement-breakpoint
DROP TABLE `visit_report`;--> statement-breakpoint
ALTER TABLE `__new_visit_report` RENAME TO `visit_report`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE UNIQUE INDEX `visit_report_key` ON `visit_report` (`key`);--> statement-breakpoint
CREATE INDEX `visit_report_visit` ON `visit_report` (`visit_id`);