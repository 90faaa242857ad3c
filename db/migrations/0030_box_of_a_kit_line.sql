ALTER TABLE `kit_line` ADD `box_c` integer DEFAULT 0 NOT NULL;--> statement-breakpoint
UPDATE `kit_line` SET `box_c` = CASE
  WHEN `run_id` IS NOT NULL OR (SELECT i.`unit` FROM `item` i WHERE i.`code` = `kit_line`.`item_code`) = 'm' THEN `needed_c`
  ELSE (`needed_c` + 99) / 100 * 100 END;
