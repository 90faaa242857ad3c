CREATE TABLE `pace_minutes` (
	`key` text PRIMARY KEY NOT NULL,
	`minutes` text NOT NULL
);
