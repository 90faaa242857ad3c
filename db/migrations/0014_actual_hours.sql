CREATE TABLE `calibration_rejection` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`proposal_id` text NOT NULL,
	`in_force` real NOT NULL,
	`proposed` real NOT NULL,
	`actuals` integer NOT NULL,
	`reason` text NOT NULL,
	`rejected_by` text NOT NULL,
	`rejected_at` integer NOT NULL,
	CONSTRAINT "calibration_rejection_reason" CHECK(length("calibration_rejection"."reason") > 0)
);
--> statement-breakpoint
CREATE INDEX `calibration_rejection_proposal` ON `calibration_rejection` (`proposal_id`);--> statement-breakpoint
CREATE TABLE `report_part` (
	`report_id` integer NOT NULL,
	`part` text NOT NULL,
	`worked_min` real NOT NULL,
	PRIMARY KEY(`report_id`, `part`),
	FOREIGN KEY (`report_id`) REFERENCES `visit_report`(`id`) ON UPDATE no action ON DELETE cascade,
	CONSTRAINT "report_part_minutes" CHECK("report_part"."worked_min" > 0 AND "report_part"."worked_min" <= 10080)
);
--> statement-breakpoint
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
	CONSTRAINT "policy_kind" CHECK("__new_policy"."kind" IN ('takeoff policy','takeoff rules','hour norms','hour calibration','weather limits','plan weights','cutting','stock','acceptance limits'))
);
--> statement-breakpoint
INSERT INTO `__new_policy`("kind", "version", "body", "changed_by", "changed_at", "reason") SELECT "kind", "version", "body", "changed_by", "changed_at", "reason" FROM `policy`;--> statement-breakpoint
DROP TABLE `policy`;--> statement-breakpoint
ALTER TABLE `__new_policy` RENAME TO `policy`;--> statement-breakpoint
PRAGMA foreign_keys=ON;