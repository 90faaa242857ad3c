CREATE INDEX `balance_lots` ON `balance` (`lot_code`) WHERE "balance"."lot_code" <> '' AND "balance"."quantity_c" > 0;--> statement-breakpoint
CREATE INDEX `movement_run` ON `movement` (`run_id`) WHERE "movement"."run_id" IS NOT NULL;--> statement-breakpoint
CREATE INDEX `movement_order` ON `movement` (`order_code`,`item_code`) WHERE "movement"."order_code" IS NOT NULL;