-- Within a day rows happen in the order in which they were posted: a backdated row is held against every row after it,
-- not against the ends of days only. A drum is in one place at every moment of its history, and is received once.
DROP TRIGGER movement_on_hand_later;
--> statement-breakpoint
CREATE TRIGGER movement_on_hand_later BEFORE INSERT ON movement
WHEN NEW.from_place IS NOT NULL AND EXISTS (
  SELECT 1 FROM movement m WHERE m.item_code = NEW.item_code AND m.effective_on > NEW.effective_on
    AND (m.from_place = NEW.from_place OR m.to_place = NEW.from_place))
BEGIN
  SELECT RAISE(ABORT, 'on hand would fall below zero on a later day')
  WHERE EXISTS (
    SELECT 1 FROM (
      SELECT m.effective_on AS d, SUM(CASE WHEN m.to_place = NEW.from_place THEN m.quantity_c ELSE -m.quantity_c END)
        OVER (ORDER BY m.effective_on, m.id) AS running
      FROM movement m
      WHERE m.item_code = NEW.item_code AND m.owner = NEW.owner
        AND m.lot_code IS NEW.lot_code AND m.drum_serial IS NEW.drum_serial
        AND (m.to_place = NEW.from_place OR m.from_place = NEW.from_place)
    )
    WHERE d > NEW.effective_on AND running < NEW.quantity_c
  ) OR (
    SELECT COALESCE(SUM(CASE WHEN m.to_place = NEW.from_place THEN m.quantity_c ELSE -m.quantity_c END), 0)
    FROM movement m
    WHERE m.item_code = NEW.item_code AND m.owner = NEW.owner
      AND m.lot_code IS NEW.lot_code AND m.drum_serial IS NEW.drum_serial
      AND (m.to_place = NEW.from_place OR m.from_place = NEW.from_place)
      AND m.effective_on <= NEW.effective_on
  ) < NEW.quantity_c;
END;
--> statement-breakpoint
CREATE TRIGGER movement_drum_received_once BEFORE INSERT ON movement
WHEN NEW.kind = 'receipt' AND NEW.drum_serial IS NOT NULL AND EXISTS (
  SELECT 1 FROM movement m WHERE m.drum_serial = NEW.drum_serial AND m.kind = 'receipt'
    AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id))
BEGIN
  SELECT RAISE(ABORT, 'the drum was already received');
END;
--> statement-breakpoint
CREATE TRIGGER movement_drum_one_place AFTER INSERT ON movement
WHEN NEW.drum_serial IS NOT NULL
BEGIN
  SELECT RAISE(ABORT, 'a drum is in one place: move all that is left on it')
  WHERE EXISTS (
    SELECT 1 FROM movement e
    WHERE e.drum_serial = NEW.drum_serial AND (
      SELECT COUNT(*) FROM (
        SELECT place FROM (
          SELECT i.to_place AS place, i.quantity_c AS q FROM movement i
          WHERE i.drum_serial = NEW.drum_serial AND i.to_place IS NOT NULL
            AND (i.effective_on < e.effective_on OR (i.effective_on = e.effective_on AND i.id <= e.id))
          UNION ALL
          SELECT o.from_place, -o.quantity_c FROM movement o
          WHERE o.drum_serial = NEW.drum_serial AND o.from_place IS NOT NULL
            AND (o.effective_on < e.effective_on OR (o.effective_on = e.effective_on AND o.id <= e.id))
        ) GROUP BY place HAVING SUM(q) > 0
      )
    ) > 1);
END;
