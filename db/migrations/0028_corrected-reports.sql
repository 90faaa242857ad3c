ALTER TABLE `visit_report` ADD `corrects_id` integer REFERENCES visit_report(id);--> statement-breakpoint
CREATE UNIQUE INDEX `visit_report_corrects` ON `visit_report` (`corrects_id`);