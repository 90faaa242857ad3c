CREATE TABLE `acceptance_reading` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`hop_code` text NOT NULL,
	`asked_id` text NOT NULL,
	`value` real,
	`passed` integer,
	`target_level_dbm` real,
	`taken_on` text NOT NULL,
	`note` text DEFAULT '' NOT NULL,
	`report_id` integer,
	`recorded_by` text NOT NULL,
	`recorded_at` integer NOT NULL,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`report_id`) REFERENCES `visit_report`(`id`) ON UPDATE no action ON DELETE cascade,
	CONSTRAINT "acceptance_reading_one" CHECK(("acceptance_reading"."value" IS NULL) <> ("acceptance_reading"."passed" IS NULL)),
	CONSTRAINT "acceptance_reading_passed" CHECK("acceptance_reading"."passed" IS NULL OR "acceptance_reading"."passed" IN (0, 1))
);
--> statement-breakpoint
CREATE INDEX `acceptance_reading_hop` ON `acceptance_reading` (`hop_code`,`asked_id`);--> statement-breakpoint
CREATE TABLE `revisit` (
	`visit_id` text PRIMARY KEY NOT NULL,
	`hop_code` text NOT NULL,
	`side` text NOT NULL,
	`no` integer NOT NULL,
	`remedy` text NOT NULL,
	`is_joint` integer NOT NULL,
	`cause` text NOT NULL,
	`estimate` text,
	`opened_by` text NOT NULL,
	`opened_at` integer NOT NULL,
	`withdrawn_by` text,
	`withdrawn_at` integer,
	`withdrawn_why` text,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "revisit_side" CHECK("revisit"."side" IN ('near','far')),
	CONSTRAINT "revisit_no" CHECK("revisit"."no" BETWEEN 1 AND 99),
	CONSTRAINT "revisit_remedy" CHECK("revisit"."remedy" IN ('align again','connections','earthing','indoor unit')),
	CONSTRAINT "revisit_joint" CHECK("revisit"."is_joint" = 0 OR "revisit"."remedy" = 'align again'),
	CONSTRAINT "revisit_withdrawn" CHECK(("revisit"."withdrawn_at" IS NULL) = ("revisit"."withdrawn_by" IS NULL) AND ("revisit"."withdrawn_at" IS NULL) = ("revisit"."withdrawn_why" IS NULL))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `revisit_end_no` ON `revisit` (`hop_code`,`side`,`no`);--> statement-breakpoint
CREATE TABLE `__new_policy` (
	`kind` text NOT NULL,
	`version` integer NOT NULL,
	`body` text NOT NULL,
	`changed_by` text NOT NULL,
	`changed_at` integer NOT NULL,
	`reason` text NOT NULL,
	PRIMARY KEY(`kind`, `version`),
	CONSTRAINT "policy_version" CHECK("__new_policy"."version" >= 1),
	CONSTRAINT "policy_kind" CHECK("__new_policy"."kind" IN ('takeoff policy','takeoff rules','hour norms','weather limits','plan weights','cutting','stock','acceptance limits'))
);
--> statement-breakpoint
INSERT INTO `__new_policy`("kind", "version", "body", "changed_by", "changed_at", "reason") SELECT "kind", "version", "body", "changed_by", "changed_at", "reason" FROM `policy`;--> statement-breakpoint
DROP TABLE `policy`;--> statement-breakpoint
ALTER TABLE `__new_policy` RENAME TO `policy`;--> statement-breakpoint
CREATE TABLE `__new_hop` (
	`code` text PRIMARY KEY NOT NULL,
	`scheme` text NOT NULL,
	`band_ghz` real NOT NULL,
	`promised_on` text,
	`weight` real NOT NULL,
	`alignment` text DEFAULT 'both ends at once' NOT NULL,
	`acceptance` text DEFAULT 'with the alignment' NOT NULL,
	CONSTRAINT "hop_scheme" CHECK("__new_hop"."scheme" IN ('1+0','1+1 hot standby','1+1 space diversity','2+0 dual-polar','2+0 two channels')),
	CONSTRAINT "hop_band" CHECK("__new_hop"."band_ghz" > 0),
	CONSTRAINT "hop_weight" CHECK("__new_hop"."weight" > 0),
	CONSTRAINT "hop_alignment" CHECK("__new_hop"."alignment" IN ('both ends at once','end after end')),
	CONSTRAINT "hop_acceptance" CHECK("__new_hop"."acceptance" IN ('with the alignment','own visit')),
	CONSTRAINT "hop_promise" CHECK("__new_hop"."promised_on" IS NULL OR "__new_hop"."promised_on" GLOB '????-??-??')
);
--> statement-breakpoint
INSERT INTO `__new_hop`("code", "scheme", "band_ghz", "promised_on", "weight") SELECT "code", "scheme", "band_ghz", "promised_on", "weight" FROM `hop`;--> statement-breakpoint
DROP TABLE `hop`;--> statement-breakpoint
ALTER TABLE `__new_hop` RENAME TO `hop`;--> statement-breakpoint
ALTER TABLE `odu` ADD `target_level_dbm` real;--> statement-breakpoint
ALTER TABLE `hop_estimate` ADD `alignment_far` text;--> statement-breakpoint
ALTER TABLE `hop_estimate` ADD `acceptance` text;--> statement-breakpoint
ALTER TABLE `plan_visit` ADD `is_joint` integer DEFAULT false NOT NULL;--> statement-breakpoint
UPDATE `plan_visit` SET `is_joint` = 1 WHERE `kind` = 'alignment';
