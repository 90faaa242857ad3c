CREATE TABLE `kit_serial` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`visit_id` text NOT NULL,
	`item_code` text NOT NULL,
	`serial` text NOT NULL,
	`read_by` text NOT NULL,
	`read_at` integer NOT NULL,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "kit_serial_word" CHECK(length("kit_serial"."serial") > 0)
);
--> statement-breakpoint
CREATE UNIQUE INDEX `kit_serial_once` ON `kit_serial` (`serial`);--> statement-breakpoint
CREATE INDEX `kit_serial_visit` ON `kit_serial` (`visit_id`);