CREATE TABLE `plan_risk` (
	`plan_id` integer PRIMARY KEY NOT NULL,
	`plan_revision` integer NOT NULL,
	`made_at` integer NOT NULL,
	`body` text NOT NULL,
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade
);
