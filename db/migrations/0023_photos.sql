CREATE TABLE `visit_photo` (
	`key` text PRIMARY KEY NOT NULL,
	`visit_id` text NOT NULL,
	`hop_code` text NOT NULL,
	`subject` text NOT NULL,
	`width_px` integer NOT NULL,
	`height_px` integer NOT NULL,
	`size_bytes` integer NOT NULL,
	`sha256` text NOT NULL,
	`taken_at` integer NOT NULL,
	`sent_by` text NOT NULL,
	`received_at` integer NOT NULL,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "visit_photo_key" CHECK(length("visit_photo"."key") = 32 AND "visit_photo"."key" NOT GLOB '*[^0-9a-f]*'),
	CONSTRAINT "visit_photo_size" CHECK("visit_photo"."width_px" > 0 AND "visit_photo"."height_px" > 0 AND "visit_photo"."size_bytes" > 0)
);
--> statement-breakpoint
CREATE INDEX `visit_photo_visit` ON `visit_photo` (`visit_id`);--> statement-breakpoint
CREATE INDEX `visit_photo_hop` ON `visit_photo` (`hop_code`);