ALTER TABLE `fault` ADD `drum_serial` text;--> statement-breakpoint
ALTER TABLE `fault` ADD `order_code` text;--> statement-breakpoint
-- As before, and what was turned down at the door goes back to its supplier: a return from a hold to outside the places.
DROP TRIGGER movement_hold_and_repair;
--> statement-breakpoint
CREATE TRIGGER movement_hold_and_repair BEFORE INSERT ON movement
WHEN NEW.kind <> 'reversal'
BEGIN
  SELECT RAISE(ABORT, 'that kind of row does not go this way between shelves, hold and repair')
  WHERE NOT COALESCE((
    SELECT CASE NEW.kind
      WHEN 'quality hold' THEN toward = 'hold' AND COALESCE(away, '') NOT IN ('hold','repair')
      WHEN 'release' THEN away = 'hold' AND toward = 'warehouse'
      WHEN 'to repair' THEN away = 'hold' AND toward = 'repair'
      WHEN 'from repair' THEN away = 'repair' AND toward = 'warehouse'
      WHEN 'exchange' THEN (away = 'repair' AND toward IS NULL) OR (away IS NULL AND toward = 'warehouse')
      WHEN 'return' THEN CASE WHEN toward IS NULL THEN away = 'hold'
        ELSE COALESCE(away, '') NOT IN ('hold','repair') AND toward NOT IN ('hold','repair') END
      WHEN 'scrap' THEN 1
      WHEN 'count adjustment' THEN 1
      ELSE COALESCE(away, '') NOT IN ('hold','repair') AND COALESCE(toward, '') NOT IN ('hold','repair')
    END
    FROM (SELECT (SELECT kind FROM place WHERE code = NEW.from_place) AS away,
                 (SELECT kind FROM place WHERE code = NEW.to_place) AS toward)), 0);
END;
