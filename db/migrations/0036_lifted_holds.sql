ALTER TABLE `visit_report` ADD `lifted_at` integer;--> statement-breakpoint
ALTER TABLE `visit_report` ADD `lifted_by` text;--> statement-breakpoint
ALTER TABLE `visit_report` ADD `lifted_why` text;