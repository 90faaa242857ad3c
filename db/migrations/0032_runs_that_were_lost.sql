CREATE TABLE `run_loss` (
	`cut_id` integer PRIMARY KEY NOT NULL,
	`lost_on` text NOT NULL,
	`reason` text NOT NULL,
	`recorded_by` text NOT NULL,
	`recorded_at` integer NOT NULL,
	FOREIGN KEY (`cut_id`) REFERENCES `movement`(`id`) ON UPDATE cascade ON DELETE restrict
);
