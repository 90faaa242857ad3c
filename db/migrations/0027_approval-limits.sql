CREATE TABLE `approval_limit` (
	`role` text NOT NULL,
	`currency` text NOT NULL,
	`up_to_minor` integer NOT NULL,
	`changed_by` text NOT NULL,
	`changed_at` integer NOT NULL,
	PRIMARY KEY(`role`, `currency`),
	CONSTRAINT "approval_limit_role" CHECK("approval_limit"."role" IN ('manager', 'logistics')),
	CONSTRAINT "approval_limit_currency" CHECK("approval_limit"."currency" GLOB '[A-Z][A-Z][A-Z]'),
	CONSTRAINT "approval_limit_amount" CHECK("approval_limit"."up_to_minor" BETWEEN 0 AND 100000000000)
);
