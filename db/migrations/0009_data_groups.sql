CREATE TABLE `data_group` (
	`name` text PRIMARY KEY NOT NULL,
	`revision` integer NOT NULL
);
