CREATE TABLE `interface_key` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`secret_hash` text NOT NULL,
	`scopes` text NOT NULL,
	`made_by` text NOT NULL,
	`made_at` integer NOT NULL,
	`expires_at` integer,
	`last_used_at` integer,
	`revoked_at` integer,
	`revoked_by` text
);
