CREATE TABLE `data_state` (
	`id` integer PRIMARY KEY NOT NULL,
	`revision` integer NOT NULL,
	CONSTRAINT "data_state_one" CHECK("data_state"."id" = 1)
);
--> statement-breakpoint
INSERT INTO data_state (id, revision) VALUES (1, 0);
