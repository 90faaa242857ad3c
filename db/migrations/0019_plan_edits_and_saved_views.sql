CREATE TABLE `plan_edit` (
	`plan_id` integer NOT NULL,
	`edit_no` integer NOT NULL,
	`kind` text NOT NULL,
	`user_id` text NOT NULL,
	`by_name` text NOT NULL,
	`at` integer NOT NULL,
	`words` text NOT NULL,
	`revision` integer NOT NULL,
	`changes` text NOT NULL,
	`broken` text NOT NULL,
	`of_no` integer,
	`state` text DEFAULT 'done' NOT NULL,
	PRIMARY KEY(`plan_id`, `edit_no`),
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "plan_edit_kind" CHECK("plan_edit"."kind" IN ('move','pin','free','undo','redo')),
	CONSTRAINT "plan_edit_state" CHECK("plan_edit"."state" IN ('done','undone','dropped')),
	CONSTRAINT "plan_edit_of" CHECK(("plan_edit"."kind" IN ('undo','redo')) = ("plan_edit"."of_no" IS NOT NULL))
);
--> statement-breakpoint
CREATE INDEX `plan_edit_person` ON `plan_edit` (`plan_id`,`user_id`,`state`);--> statement-breakpoint
CREATE TABLE `saved_view` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`user_id` text NOT NULL,
	`list` text NOT NULL,
	`name` text NOT NULL,
	`query` text NOT NULL,
	`saved_at` integer NOT NULL,
	FOREIGN KEY (`user_id`) REFERENCES `user`(`id`) ON UPDATE no action ON DELETE cascade,
	CONSTRAINT "saved_view_list" CHECK("saved_view"."list" IN ('sites','hops','plan','stock','kits'))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `saved_view_name` ON `saved_view` (`user_id`,`list`,`name`);