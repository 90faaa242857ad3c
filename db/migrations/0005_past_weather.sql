CREATE TABLE `past_weather` (
	`key` text PRIMARY KEY NOT NULL,
	`body` blob NOT NULL
);
