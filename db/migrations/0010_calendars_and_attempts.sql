CREATE TABLE `failed_attempt` (
	`id` integer PRIMARY KEY NOT NULL,
	`kind` text NOT NULL,
	`subject` text NOT NULL,
	`at` integer NOT NULL
);
--> statement-breakpoint
CREATE INDEX `failed_attempt_subject` ON `failed_attempt` (`kind`,`subject`,`at`);--> statement-breakpoint
CREATE TABLE `crew_calendar` (
	`crew_code` text PRIMARY KEY NOT NULL,
	`secret_hash` text NOT NULL,
	`made_by` text NOT NULL,
	`made_at` integer NOT NULL,
	FOREIGN KEY (`crew_code`) REFERENCES `crew`(`code`) ON UPDATE cascade ON DELETE cascade
);
