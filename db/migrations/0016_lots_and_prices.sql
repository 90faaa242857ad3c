PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_item` (
	`code` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`category` text NOT NULL,
	`unit` text NOT NULL,
	`mass_kg` real NOT NULL,
	`volume_l` real NOT NULL,
	`attributes` text NOT NULL,
	`owner` text NOT NULL,
	`lead_time_days` integer NOT NULL,
	`lot_rule` text DEFAULT 'minimum' NOT NULL,
	`order_multiple` real NOT NULL,
	`minimum_order` real NOT NULL,
	`safety_stock` real NOT NULL,
	`price_minor` integer NOT NULL,
	`currency` text NOT NULL,
	`shelf_life_days` integer,
	`order_cost_minor` integer,
	`holding_share_per_year` real,
	`price_breaks` text DEFAULT '[]' NOT NULL,
	CONSTRAINT "item_unit" CHECK("__new_item"."unit" IN ('piece','m','roll','can','tube','pack')),
	CONSTRAINT "item_owner" CHECK("__new_item"."owner" IN ('contractor','customer')),
	CONSTRAINT "item_amounts" CHECK("__new_item"."mass_kg" >= 0 AND "__new_item"."volume_l" >= 0 AND "__new_item"."price_minor" >= 0),
	CONSTRAINT "item_order" CHECK("__new_item"."order_multiple" > 0 AND "__new_item"."minimum_order" >= 0 AND "__new_item"."safety_stock" >= 0),
	CONSTRAINT "item_lead" CHECK("__new_item"."lead_time_days" >= 0),
	CONSTRAINT "item_lot_rule" CHECK("__new_item"."lot_rule" IN ('lot for lot','fixed multiple','minimum','Silver-Meal','Wagner-Whitin','price breaks')),
	CONSTRAINT "item_lot_costs" CHECK(("__new_item"."order_cost_minor" IS NULL OR "__new_item"."order_cost_minor" >= 0) AND ("__new_item"."holding_share_per_year" IS NULL OR "__new_item"."holding_share_per_year" >= 0))
);
--> statement-breakpoint
INSERT INTO `__new_item`("code", "name", "category", "unit", "mass_kg", "volume_l", "attributes", "owner", "lead_time_days", "lot_rule", "order_multiple", "minimum_order", "safety_stock", "price_minor", "currency", "shelf_life_days", "order_cost_minor", "holding_share_per_year", "price_breaks") SELECT "code", "name", "category", "unit", "mass_kg", "volume_l", "attributes", "owner", "lead_time_days", "lot_rule", "order_multiple", "minimum_order", "safety_stock", "price_minor", "currency", "shelf_life_days", NULL, NULL, '[]' FROM `item`;--> statement-breakpoint
DROP TABLE `item`;--> statement-breakpoint
ALTER TABLE `__new_item` RENAME TO `item`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `item_category` ON `item` (`category`);--> statement-breakpoint
CREATE TABLE `__new_order_line` (
	`order_code` text NOT NULL,
	`line_no` integer NOT NULL,
	`item_code` text NOT NULL,
	`quantity_c` integer NOT NULL,
	`received_c` integer DEFAULT 0 NOT NULL,
	`due_on` text NOT NULL,
	`promised_on` text,
	`price_minor` integer,
	`currency` text,
	PRIMARY KEY(`order_code`, `line_no`),
	FOREIGN KEY (`order_code`) REFERENCES `purchase_order`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "order_line_price" CHECK(("__new_order_line"."price_minor" IS NULL) = ("__new_order_line"."currency" IS NULL) AND ("__new_order_line"."price_minor" IS NULL OR "__new_order_line"."price_minor" >= 0)),
	CONSTRAINT "order_line_quantity" CHECK("__new_order_line"."quantity_c" > 0 AND "__new_order_line"."received_c" >= 0)
);
--> statement-breakpoint
INSERT INTO `__new_order_line`("order_code", "line_no", "item_code", "quantity_c", "received_c", "due_on", "promised_on", "price_minor", "currency") SELECT "order_code", "line_no", "item_code", "quantity_c", "received_c", "due_on", CASE WHEN (SELECT "state" FROM `purchase_order` WHERE "code" = "order_code") IN ('sent','partly received','closed') THEN "due_on" END, NULL, NULL FROM `order_line`;--> statement-breakpoint
DROP TABLE `order_line`;--> statement-breakpoint
ALTER TABLE `__new_order_line` RENAME TO `order_line`;--> statement-breakpoint
CREATE INDEX `order_line_item` ON `order_line` (`item_code`);--> statement-breakpoint
ALTER TABLE `purchase_order` ADD `sent_on` text;