CREATE TABLE `item` (
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
	CONSTRAINT "item_unit" CHECK("item"."unit" IN ('piece','m','roll','can','tube','pack')),
	CONSTRAINT "item_owner" CHECK("item"."owner" IN ('contractor','customer')),
	CONSTRAINT "item_amounts" CHECK("item"."mass_kg" >= 0 AND "item"."volume_l" >= 0 AND "item"."price_minor" >= 0),
	CONSTRAINT "item_order" CHECK("item"."order_multiple" > 0 AND "item"."minimum_order" >= 0 AND "item"."safety_stock" >= 0),
	CONSTRAINT "item_lead" CHECK("item"."lead_time_days" >= 0),
	CONSTRAINT "item_lot_rule" CHECK("item"."lot_rule" IN ('lot for lot','fixed multiple','minimum'))
);
--> statement-breakpoint
CREATE INDEX `item_category` ON `item` (`category`);--> statement-breakpoint
CREATE TABLE `policy` (
	`kind` text NOT NULL,
	`version` integer NOT NULL,
	`body` text NOT NULL,
	`changed_by` text NOT NULL,
	`changed_at` integer NOT NULL,
	`reason` text NOT NULL,
	PRIMARY KEY(`kind`, `version`),
	CONSTRAINT "policy_version" CHECK("policy"."version" >= 1),
	CONSTRAINT "policy_kind" CHECK("policy"."kind" IN ('takeoff policy','takeoff rules','hour norms','weather limits','plan weights','cutting'))
);
--> statement-breakpoint
CREATE TABLE `crew` (
	`code` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`depot_place` text NOT NULL,
	`zone` text NOT NULL,
	`weekdays` text NOT NULL,
	`shift_from_min` integer NOT NULL,
	`shift_to_min` integer NOT NULL,
	`overtime_max_min` integer NOT NULL,
	`weekly_max_min` integer NOT NULL,
	`rest_min` integer NOT NULL,
	`nights_away_max` integer NOT NULL,
	`payload_kg` real NOT NULL,
	`pace` real NOT NULL,
	FOREIGN KEY (`depot_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "crew_weekdays" CHECK("crew"."weekdays" <> '' AND "crew"."weekdays" NOT GLOB '*[^1-7]*'),
	CONSTRAINT "crew_shift" CHECK("crew"."shift_from_min" >= 0 AND "crew"."shift_to_min" <= 1440 AND "crew"."shift_from_min" < "crew"."shift_to_min"),
	CONSTRAINT "crew_limits" CHECK("crew"."overtime_max_min" >= 0 AND "crew"."weekly_max_min" > 0 AND "crew"."rest_min" >= 0 AND "crew"."nights_away_max" >= 0),
	CONSTRAINT "crew_payload" CHECK("crew"."payload_kg" > 0 AND "crew"."pace" > 0)
);
--> statement-breakpoint
CREATE TABLE `crew_member` (
	`code` text PRIMARY KEY NOT NULL,
	`crew_code` text NOT NULL,
	`name` text NOT NULL,
	`is_lead` integer NOT NULL,
	FOREIGN KEY (`crew_code`) REFERENCES `crew`(`code`) ON UPDATE cascade ON DELETE cascade
);
--> statement-breakpoint
CREATE INDEX `crew_member_crew` ON `crew_member` (`crew_code`);--> statement-breakpoint
CREATE TABLE `leave` (
	`member_code` text NOT NULL,
	`from_on` text NOT NULL,
	`to_on` text NOT NULL,
	`reason` text NOT NULL,
	PRIMARY KEY(`member_code`, `from_on`),
	FOREIGN KEY (`member_code`) REFERENCES `crew_member`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "leave_order" CHECK("leave"."from_on" <= "leave"."to_on")
);
--> statement-breakpoint
CREATE TABLE `member_skill` (
	`member_code` text NOT NULL,
	`skill` text NOT NULL,
	`valid_until` text,
	PRIMARY KEY(`member_code`, `skill`),
	FOREIGN KEY (`member_code`) REFERENCES `crew_member`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "member_skill_kind" CHECK("member_skill"."skill" IN ('climber','rescue','ground','rigger','technician'))
);
--> statement-breakpoint
CREATE TABLE `antenna_position` (
	`end_id` text NOT NULL,
	`label` text NOT NULL,
	`mount_height_m` real NOT NULL,
	`diameter_m` real NOT NULL,
	`polarisations` text NOT NULL,
	`mount` text NOT NULL,
	`band_ghz` real NOT NULL,
	`owner` text NOT NULL,
	PRIMARY KEY(`end_id`, `label`),
	FOREIGN KEY (`end_id`) REFERENCES `link_end`(`id`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "antenna_height" CHECK("antenna_position"."mount_height_m" > 0),
	CONSTRAINT "antenna_diameter" CHECK("antenna_position"."diameter_m" > 0),
	CONSTRAINT "antenna_polarisations" CHECK("antenna_position"."polarisations" IN ('V','H','VH')),
	CONSTRAINT "antenna_mount" CHECK("antenna_position"."mount" IN ('pole','face','roof stand')),
	CONSTRAINT "antenna_owner" CHECK("antenna_position"."owner" IN ('contractor','customer'))
);
--> statement-breakpoint
CREATE TABLE `gate` (
	`hop_code` text NOT NULL,
	`side` text NOT NULL,
	`kind` text NOT NULL,
	`owner` text NOT NULL,
	`state` text NOT NULL,
	`due_on` text,
	PRIMARY KEY(`hop_code`, `side`, `kind`),
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "gate_side" CHECK("gate"."side" IN ('near','far','both')),
	CONSTRAINT "gate_kind" CHECK("gate"."kind" IN ('survey','structure approval','site ready','supply','spectrum licence','access permit')),
	CONSTRAINT "gate_state" CHECK("gate"."state" IN ('met','dated','open')),
	CONSTRAINT "gate_dated" CHECK("gate"."state" <> 'dated' OR "gate"."due_on" IS NOT NULL)
);
--> statement-breakpoint
CREATE TABLE `hop` (
	`code` text PRIMARY KEY NOT NULL,
	`scheme` text NOT NULL,
	`band_ghz` real NOT NULL,
	`promised_on` text,
	`weight` real NOT NULL,
	CONSTRAINT "hop_scheme" CHECK("hop"."scheme" IN ('1+0','1+1 hot standby','1+1 space diversity','2+0 dual-polar','2+0 two channels')),
	CONSTRAINT "hop_band" CHECK("hop"."band_ghz" > 0),
	CONSTRAINT "hop_weight" CHECK("hop"."weight" > 0),
	CONSTRAINT "hop_promise" CHECK("hop"."promised_on" IS NULL OR "hop"."promised_on" GLOB '????-??-??')
);
--> statement-breakpoint
CREATE TABLE `link_end` (
	`id` text PRIMARY KEY NOT NULL,
	`hop_code` text NOT NULL,
	`side` text NOT NULL,
	`site_code` text NOT NULL,
	`cable_code` text,
	`worst_supply_v` real NOT NULL,
	`includes_idu_power` integer NOT NULL,
	`entry_height_m` real,
	`coupler_split` text,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`site_code`) REFERENCES `site`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`cable_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "link_end_side" CHECK("link_end"."side" IN ('near','far')),
	CONSTRAINT "link_end_supply" CHECK("link_end"."worst_supply_v" > 0),
	CONSTRAINT "link_end_split" CHECK("link_end"."coupler_split" IS NULL OR "link_end"."coupler_split" IN ('equal','unequal')),
	CONSTRAINT "link_end_entry" CHECK("link_end"."entry_height_m" IS NULL OR "link_end"."entry_height_m" >= 0)
);
--> statement-breakpoint
CREATE UNIQUE INDEX `link_end_hop_side` ON `link_end` (`hop_code`,`side`);--> statement-breakpoint
CREATE INDEX `link_end_site` ON `link_end` (`site_code`);--> statement-breakpoint
CREATE TABLE `odu` (
	`end_id` text NOT NULL,
	`label` text NOT NULL,
	`antenna_label` text NOT NULL,
	`polarisation` text NOT NULL,
	`role` text NOT NULL,
	`mounting` text NOT NULL,
	`owner` text NOT NULL,
	`band_ghz` real NOT NULL,
	`sub_band` text NOT NULL,
	`duplex_spacing_mhz` real NOT NULL,
	`half` text NOT NULL,
	`earth_bar_distance_m` real NOT NULL,
	PRIMARY KEY(`end_id`, `label`),
	FOREIGN KEY (`end_id`,`antenna_label`) REFERENCES `antenna_position`(`end_id`,`label`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "odu_polarisation" CHECK("odu"."polarisation" IN ('V','H')),
	CONSTRAINT "odu_role" CHECK("odu"."role" IN ('main','standby','channel 1','channel 2')),
	CONSTRAINT "odu_mounting" CHECK("odu"."mounting" IN ('direct','remote')),
	CONSTRAINT "odu_owner" CHECK("odu"."owner" IN ('contractor','customer')),
	CONSTRAINT "odu_half" CHECK("odu"."half" IN ('high','low')),
	CONSTRAINT "odu_earth" CHECK("odu"."earth_bar_distance_m" >= 0)
);
--> statement-breakpoint
CREATE TABLE `route_segment` (
	`end_id` text NOT NULL,
	`odu_label` text NOT NULL,
	`seq` integer NOT NULL,
	`kind` text NOT NULL,
	`length_m` real NOT NULL,
	`bend_at_end` integer NOT NULL,
	PRIMARY KEY(`end_id`, `odu_label`, `seq`),
	FOREIGN KEY (`end_id`,`odu_label`) REFERENCES `odu`(`end_id`,`label`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "segment_kind" CHECK("route_segment"."kind" IN ('vertical','bridge','tray','indoor')),
	CONSTRAINT "segment_length" CHECK("route_segment"."length_m" > 0)
);
--> statement-breakpoint
CREATE TABLE `site` (
	`code` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`region` text NOT NULL,
	`lat_deg` real,
	`lon_deg` real,
	`elevation_m` real NOT NULL,
	`zone` text NOT NULL,
	`structure` text NOT NULL,
	`structure_height_m` real NOT NULL,
	`terrain` text NOT NULL,
	`has_earthing_bar` integer,
	`access_weekdays` text NOT NULL,
	`access_from_min` integer NOT NULL,
	`access_to_min` integer NOT NULL,
	`notice_days` integer NOT NULL,
	`allows_two_crews` integer NOT NULL,
	CONSTRAINT "site_position" CHECK(("site"."lat_deg" IS NULL) = ("site"."lon_deg" IS NULL)),
	CONSTRAINT "site_lat" CHECK("site"."lat_deg" IS NULL OR "site"."lat_deg" BETWEEN -90 AND 90),
	CONSTRAINT "site_lon" CHECK("site"."lon_deg" IS NULL OR "site"."lon_deg" BETWEEN -180 AND 180),
	CONSTRAINT "site_structure" CHECK("site"."structure" IN ('lattice','mast','monopole','roof')),
	CONSTRAINT "site_terrain" CHECK("site"."terrain" IN ('0','I','II','III','IV')),
	CONSTRAINT "site_height" CHECK("site"."structure_height_m" > 0),
	CONSTRAINT "site_access" CHECK("site"."access_from_min" >= 0 AND "site"."access_to_min" <= 1440 AND "site"."access_from_min" < "site"."access_to_min"),
	CONSTRAINT "site_weekdays" CHECK("site"."access_weekdays" <> '' AND "site"."access_weekdays" NOT GLOB '*[^1-7]*'),
	CONSTRAINT "site_notice" CHECK("site"."notice_days" >= 0)
);
--> statement-breakpoint
CREATE INDEX `site_region` ON `site` (`region`);--> statement-breakpoint
CREATE TABLE `end_estimate` (
	`end_id` text PRIMARY KEY NOT NULL,
	`basis` text NOT NULL,
	`takeoff` text NOT NULL,
	`estimate` text NOT NULL,
	`fail_count` integer NOT NULL,
	`warn_count` integer NOT NULL,
	`cable_m` real NOT NULL,
	`mass_kg` real NOT NULL,
	`install_min` real NOT NULL,
	`p80_min` real NOT NULL,
	FOREIGN KEY (`end_id`) REFERENCES `link_end`(`id`) ON UPDATE cascade ON DELETE cascade
);
--> statement-breakpoint
CREATE TABLE `hop_estimate` (
	`hop_code` text PRIMARY KEY NOT NULL,
	`basis` text NOT NULL,
	`checks` text NOT NULL,
	`alignment` text NOT NULL,
	`alignment_min` real NOT NULL,
	`fail_count` integer NOT NULL,
	`warn_count` integer NOT NULL,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade
);
--> statement-breakpoint
CREATE TABLE `kit` (
	`plan_id` integer NOT NULL,
	`visit_id` text NOT NULL,
	`pick_on` text NOT NULL,
	`place_code` text NOT NULL,
	`state` text NOT NULL,
	`mass_kg` real NOT NULL,
	`volume_l` real NOT NULL,
	PRIMARY KEY(`plan_id`, `visit_id`),
	FOREIGN KEY (`plan_id`,`visit_id`) REFERENCES `plan_visit`(`plan_id`,`visit_id`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "kit_state" CHECK("kit"."state" IN ('planned','picked','issued'))
);
--> statement-breakpoint
CREATE INDEX `kit_pick` ON `kit` (`plan_id`,`pick_on`);--> statement-breakpoint
CREATE TABLE `kit_line` (
	`plan_id` integer NOT NULL,
	`visit_id` text NOT NULL,
	`line_no` integer NOT NULL,
	`item_code` text NOT NULL,
	`name` text NOT NULL,
	`needed_c` integer NOT NULL,
	`picked_c` integer DEFAULT 0 NOT NULL,
	`short_c` integer NOT NULL,
	`drum_serial` text,
	`run_id` text,
	`lot_code` text,
	`reason` text NOT NULL,
	PRIMARY KEY(`plan_id`, `visit_id`, `line_no`),
	FOREIGN KEY (`plan_id`,`visit_id`) REFERENCES `kit`(`plan_id`,`visit_id`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "kit_line_amounts" CHECK("kit_line"."needed_c" > 0 AND "kit_line"."picked_c" >= 0 AND "kit_line"."short_c" >= 0)
);
--> statement-breakpoint
CREATE TABLE `plan` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`state` text NOT NULL,
	`first_day` text NOT NULL,
	`day_count` integer NOT NULL,
	`seed` text NOT NULL,
	`iterations` integer NOT NULL,
	`cost` text NOT NULL,
	`lower_bound` real NOT NULL,
	`basis` text NOT NULL,
	`created_by` text NOT NULL,
	`created_at` integer NOT NULL,
	`published_at` integer,
	`revision` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "plan_state" CHECK("plan"."state" IN ('draft','in force','past')),
	CONSTRAINT "plan_days" CHECK("plan"."day_count" > 0)
);
--> statement-breakpoint
CREATE UNIQUE INDEX `plan_one_in_force` ON `plan` (`state`) WHERE "plan"."state" = 'in force';--> statement-breakpoint
CREATE TABLE `plan_cutting` (
	`plan_id` integer NOT NULL,
	`cable_code` text NOT NULL,
	`body` text NOT NULL,
	PRIMARY KEY(`plan_id`, `cable_code`),
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade
);
--> statement-breakpoint
CREATE TABLE `plan_netting` (
	`plan_id` integer NOT NULL,
	`item_code` text NOT NULL,
	`runs_out_on` text,
	`on_hand_c` integer NOT NULL,
	`total_need_c` integer NOT NULL,
	`body` text NOT NULL,
	PRIMARY KEY(`plan_id`, `item_code`),
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade
);
--> statement-breakpoint
CREATE TABLE `plan_visit` (
	`plan_id` integer NOT NULL,
	`visit_id` text NOT NULL,
	`kind` text NOT NULL,
	`hop_code` text NOT NULL,
	`side` text NOT NULL,
	`site_code` text NOT NULL,
	`duration_min` integer NOT NULL,
	`kit_ready_on` text,
	`crew_code` text,
	`start_on` text,
	`start_min` integer,
	`end_on` text,
	`end_min` integer,
	`risk_min` integer DEFAULT 0 NOT NULL,
	`is_pinned` integer DEFAULT false NOT NULL,
	`unplaced_rule` text,
	`unplaced_detail` text,
	PRIMARY KEY(`plan_id`, `visit_id`),
	FOREIGN KEY (`plan_id`) REFERENCES `plan`(`id`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`site_code`) REFERENCES `site`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`crew_code`) REFERENCES `crew`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "plan_visit_placed" CHECK(("plan_visit"."crew_code" IS NULL) = ("plan_visit"."start_on" IS NULL)),
	CONSTRAINT "plan_visit_or_reason" CHECK(("plan_visit"."crew_code" IS NULL) <> ("plan_visit"."unplaced_rule" IS NULL)),
	CONSTRAINT "plan_visit_order" CHECK("plan_visit"."start_on" IS NULL OR "plan_visit"."start_on" <= "plan_visit"."end_on"),
	CONSTRAINT "plan_visit_kind" CHECK("plan_visit"."kind" IN ('install','alignment','acceptance','revisit')),
	CONSTRAINT "plan_visit_side" CHECK("plan_visit"."side" IN ('near','far'))
);
--> statement-breakpoint
CREATE INDEX `plan_visit_crew` ON `plan_visit` (`plan_id`,`crew_code`,`start_on`);--> statement-breakpoint
CREATE INDEX `plan_visit_hop` ON `plan_visit` (`plan_id`,`hop_code`);--> statement-breakpoint
CREATE TABLE `import_file` (
	`import_id` text NOT NULL,
	`seq` integer NOT NULL,
	`file_name` text NOT NULL,
	`kind` text,
	`matching` text,
	`bytes` blob NOT NULL,
	`preview` text,
	PRIMARY KEY(`import_id`, `seq`),
	FOREIGN KEY (`import_id`) REFERENCES `import_run`(`id`) ON UPDATE no action ON DELETE cascade
);
--> statement-breakpoint
CREATE TABLE `import_run` (
	`id` text PRIMARY KEY NOT NULL,
	`state` text NOT NULL,
	`created_by` text NOT NULL,
	`created_at` integer NOT NULL,
	`summary` text,
	CONSTRAINT "import_state" CHECK("import_run"."state" IN ('read','previewed','applied','discarded'))
);
--> statement-breakpoint
CREATE TABLE `log_entry` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`at` integer NOT NULL,
	`user_name` text NOT NULL,
	`action` text NOT NULL,
	`subject` text NOT NULL,
	`detail` text NOT NULL
);
--> statement-breakpoint
CREATE INDEX `log_at` ON `log_entry` (`at`);--> statement-breakpoint
CREATE INDEX `log_subject` ON `log_entry` (`subject`);--> statement-breakpoint
CREATE TABLE `report_use` (
	`report_id` integer NOT NULL,
	`line_no` integer NOT NULL,
	`item_code` text NOT NULL,
	`run_id` text,
	`drum_serial` text,
	`used_c` integer NOT NULL,
	`left_c` integer NOT NULL,
	PRIMARY KEY(`report_id`, `line_no`),
	FOREIGN KEY (`report_id`) REFERENCES `visit_report`(`id`) ON UPDATE no action ON DELETE cascade,
	CONSTRAINT "report_use_amounts" CHECK("report_use"."used_c" >= 0 AND "report_use"."left_c" >= 0)
);
--> statement-breakpoint
CREATE TABLE `visit_report` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`key` text NOT NULL,
	`visit_id` text NOT NULL,
	`hop_code` text NOT NULL,
	`crew_code` text NOT NULL,
	`worked_on` text NOT NULL,
	`outcome` text NOT NULL,
	`worked_min` real NOT NULL,
	`hold_reason` text,
	`note` text DEFAULT '' NOT NULL,
	`reported_by` text NOT NULL,
	`reported_at` integer NOT NULL,
	FOREIGN KEY (`hop_code`) REFERENCES `hop`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "visit_report_outcome" CHECK("visit_report"."outcome" IN ('done','part done','hold')),
	CONSTRAINT "visit_report_hold" CHECK("visit_report"."outcome" <> 'hold' OR length("visit_report"."hold_reason") > 0),
	CONSTRAINT "visit_report_minutes" CHECK("visit_report"."worked_min" >= 0 AND "visit_report"."worked_min" <= 10080)
);
--> statement-breakpoint
CREATE UNIQUE INDEX `visit_report_key` ON `visit_report` (`key`);--> statement-breakpoint
CREATE INDEX `visit_report_visit` ON `visit_report` (`visit_id`);--> statement-breakpoint
CREATE TABLE `balance` (
	`item_code` text NOT NULL,
	`place_code` text NOT NULL,
	`lot_code` text NOT NULL,
	`drum_serial` text NOT NULL,
	`owner` text NOT NULL,
	`quantity_c` integer NOT NULL,
	PRIMARY KEY(`item_code`, `place_code`, `lot_code`, `drum_serial`, `owner`),
	CONSTRAINT "balance_not_negative" CHECK("balance"."quantity_c" >= 0)
);
--> statement-breakpoint
CREATE INDEX `balance_place` ON `balance` (`place_code`);--> statement-breakpoint
CREATE TABLE `drum` (
	`serial` text PRIMARY KEY NOT NULL,
	`item_code` text NOT NULL,
	`received_c` integer NOT NULL,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "drum_length" CHECK("drum"."received_c" > 0)
);
--> statement-breakpoint
CREATE INDEX `drum_item` ON `drum` (`item_code`);--> statement-breakpoint
CREATE TABLE `lot` (
	`code` text PRIMARY KEY NOT NULL,
	`item_code` text NOT NULL,
	`expires_on` text,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict
);
--> statement-breakpoint
CREATE INDEX `lot_item` ON `lot` (`item_code`);--> statement-breakpoint
CREATE TABLE `movement` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`key` text NOT NULL,
	`kind` text NOT NULL,
	`item_code` text NOT NULL,
	`lot_code` text,
	`drum_serial` text,
	`owner` text NOT NULL,
	`from_place` text,
	`to_place` text,
	`quantity_c` integer NOT NULL,
	`effective_on` text NOT NULL,
	`posted_at` integer NOT NULL,
	`corrects_id` integer,
	`order_code` text,
	`visit_id` text,
	`run_id` text,
	`reason` text NOT NULL,
	`posted_by` text NOT NULL,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`lot_code`) REFERENCES `lot`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`drum_serial`) REFERENCES `drum`(`serial`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`from_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`to_place`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	FOREIGN KEY (`corrects_id`) REFERENCES `movement`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "movement_quantity" CHECK("movement"."quantity_c" > 0),
	CONSTRAINT "movement_places" CHECK("movement"."from_place" IS NOT NULL OR "movement"."to_place" IS NOT NULL),
	CONSTRAINT "movement_moves" CHECK("movement"."from_place" IS NULL OR "movement"."to_place" IS NULL OR "movement"."from_place" <> "movement"."to_place"),
	CONSTRAINT "movement_kind" CHECK("movement"."kind" IN ('receipt','issue','return','transfer','cut','count adjustment','scrap','installed','reversal')),
	CONSTRAINT "movement_reversal" CHECK(("movement"."kind" = 'reversal') = ("movement"."corrects_id" IS NOT NULL)),
	CONSTRAINT "movement_owner" CHECK("movement"."owner" IN ('contractor','customer'))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `movement_key` ON `movement` (`key`);--> statement-breakpoint
CREATE INDEX `movement_item` ON `movement` (`item_code`,`effective_on`);--> statement-breakpoint
CREATE INDEX `movement_drum` ON `movement` (`drum_serial`);--> statement-breakpoint
CREATE INDEX `movement_visit` ON `movement` (`visit_id`);--> statement-breakpoint
CREATE INDEX `movement_from` ON `movement` (`item_code`,`from_place`,`effective_on`);--> statement-breakpoint
CREATE INDEX `movement_to` ON `movement` (`item_code`,`to_place`,`effective_on`);--> statement-breakpoint
CREATE UNIQUE INDEX `movement_corrects` ON `movement` (`corrects_id`);--> statement-breakpoint
CREATE TABLE `order_line` (
	`order_code` text NOT NULL,
	`line_no` integer NOT NULL,
	`item_code` text NOT NULL,
	`quantity_c` integer NOT NULL,
	`received_c` integer DEFAULT 0 NOT NULL,
	`due_on` text NOT NULL,
	PRIMARY KEY(`order_code`, `line_no`),
	FOREIGN KEY (`order_code`) REFERENCES `purchase_order`(`code`) ON UPDATE cascade ON DELETE cascade,
	FOREIGN KEY (`item_code`) REFERENCES `item`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "order_line_quantity" CHECK("order_line"."quantity_c" > 0 AND "order_line"."received_c" >= 0)
);
--> statement-breakpoint
CREATE INDEX `order_line_item` ON `order_line` (`item_code`);--> statement-breakpoint
CREATE TABLE `place` (
	`code` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`lat_deg` real,
	`lon_deg` real,
	CONSTRAINT "place_kind" CHECK("place"."kind" IN ('warehouse','vehicle','site')),
	CONSTRAINT "place_position" CHECK(("place"."lat_deg" IS NULL) = ("place"."lon_deg" IS NULL))
);
--> statement-breakpoint
CREATE TABLE `purchase_order` (
	`code` text PRIMARY KEY NOT NULL,
	`kind` text NOT NULL,
	`supplier` text NOT NULL,
	`state` text NOT NULL,
	`place_code` text NOT NULL,
	`created_at` integer NOT NULL,
	`created_by` text NOT NULL,
	`note` text DEFAULT '' NOT NULL,
	FOREIGN KEY (`place_code`) REFERENCES `place`(`code`) ON UPDATE cascade ON DELETE restrict,
	CONSTRAINT "order_kind" CHECK("purchase_order"."kind" IN ('purchase','call-off')),
	CONSTRAINT "order_state" CHECK("purchase_order"."state" IN ('proposed','approved','sent','partly received','closed'))
);
--> statement-breakpoint
CREATE TABLE `weather_block` (
	`place_code` text NOT NULL,
	`kind` text NOT NULL,
	`issued_at` integer NOT NULL,
	`starts_at` integer NOT NULL,
	`hours` integer NOT NULL,
	`source` text NOT NULL,
	`is_made_up` integer NOT NULL,
	`payload` blob NOT NULL,
	PRIMARY KEY(`place_code`, `kind`, `issued_at`, `starts_at`),
	FOREIGN KEY (`place_code`) REFERENCES `weather_place`(`code`) ON UPDATE cascade ON DELETE cascade,
	CONSTRAINT "weather_kind" CHECK("weather_block"."kind" IN ('forecast','history','member')),
	CONSTRAINT "weather_hours" CHECK("weather_block"."hours" > 0)
);
--> statement-breakpoint
CREATE TABLE `weather_place` (
	`code` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`lat_deg` real NOT NULL,
	`lon_deg` real NOT NULL,
	`elevation_m` real NOT NULL
);
