-- The ledger is added to, never edited: corrections are new rows that point at the row they correct.
CREATE TRIGGER movement_no_update BEFORE UPDATE ON movement
BEGIN
  SELECT RAISE(ABORT, 'ledger rows are never changed: post a reversal');
END;
--> statement-breakpoint
CREATE TRIGGER movement_no_delete BEFORE DELETE ON movement
BEGIN
  SELECT RAISE(ABORT, 'ledger rows are never deleted: post a reversal');
END;
--> statement-breakpoint
CREATE TRIGGER movement_lot_matches BEFORE INSERT ON movement
WHEN NEW.lot_code IS NOT NULL AND NOT EXISTS (SELECT 1 FROM lot WHERE code = NEW.lot_code AND item_code = NEW.item_code)
BEGIN
  SELECT RAISE(ABORT, 'the lot belongs to another item');
END;
--> statement-breakpoint
CREATE TRIGGER movement_drum_matches BEFORE INSERT ON movement
WHEN NEW.drum_serial IS NOT NULL AND NOT EXISTS (SELECT 1 FROM drum WHERE serial = NEW.drum_serial AND item_code = NEW.item_code)
BEGIN
  SELECT RAISE(ABORT, 'the drum holds another cable');
END;
--> statement-breakpoint
CREATE TRIGGER movement_cut_needs_drum BEFORE INSERT ON movement
WHEN NEW.kind = 'cut' AND (NEW.drum_serial IS NULL OR NEW.from_place IS NULL)
BEGIN
  SELECT RAISE(ABORT, 'a cut names its drum and its place');
END;
--> statement-breakpoint
CREATE TRIGGER movement_reversal_mirrors BEFORE INSERT ON movement
WHEN NEW.kind = 'reversal' AND NOT EXISTS (
  SELECT 1 FROM movement o
  WHERE o.id = NEW.corrects_id AND o.kind <> 'reversal'
    AND o.item_code = NEW.item_code AND o.quantity_c = NEW.quantity_c AND o.owner = NEW.owner
    AND o.lot_code IS NEW.lot_code AND o.drum_serial IS NEW.drum_serial
    AND o.from_place IS NEW.to_place AND o.to_place IS NEW.from_place
    AND NEW.effective_on >= o.effective_on)
BEGIN
  SELECT RAISE(ABORT, 'a reversal mirrors the row it corrects');
END;
--> statement-breakpoint
-- Whatever leaves a place must be there.
CREATE TRIGGER movement_on_hand BEFORE INSERT ON movement
WHEN NEW.from_place IS NOT NULL AND COALESCE((
  SELECT quantity_c FROM balance
  WHERE item_code = NEW.item_code AND place_code = NEW.from_place AND lot_code = COALESCE(NEW.lot_code, '')
    AND drum_serial = COALESCE(NEW.drum_serial, '') AND owner = NEW.owner), 0) < NEW.quantity_c
BEGIN
  SELECT RAISE(ABORT, 'on hand would fall below zero');
END;
--> statement-breakpoint
-- A backdated row is checked against every later day as well.
CREATE TRIGGER movement_on_hand_later BEFORE INSERT ON movement
WHEN NEW.from_place IS NOT NULL AND EXISTS (
  SELECT 1 FROM movement m WHERE m.item_code = NEW.item_code AND m.effective_on > NEW.effective_on
    AND (m.from_place = NEW.from_place OR m.to_place = NEW.from_place))
BEGIN
  SELECT RAISE(ABORT, 'on hand would fall below zero on a later day')
  WHERE EXISTS (
    SELECT 1 FROM (
      SELECT NEW.effective_on AS d
      UNION
      SELECT DISTINCT effective_on FROM movement
      WHERE item_code = NEW.item_code AND from_place = NEW.from_place AND effective_on > NEW.effective_on
    ) days
    WHERE (
      SELECT COALESCE(SUM(CASE WHEN m.to_place = NEW.from_place THEN m.quantity_c ELSE -m.quantity_c END), 0)
      FROM movement m
      WHERE m.item_code = NEW.item_code AND m.owner = NEW.owner
        AND m.lot_code IS NEW.lot_code AND m.drum_serial IS NEW.drum_serial
        AND (m.to_place = NEW.from_place OR m.from_place = NEW.from_place)
        AND m.effective_on <= days.d
    ) < NEW.quantity_c);
END;
--> statement-breakpoint
CREATE TRIGGER movement_balance AFTER INSERT ON movement
BEGIN
  UPDATE balance SET quantity_c = quantity_c - NEW.quantity_c
  WHERE NEW.from_place IS NOT NULL AND item_code = NEW.item_code AND place_code = NEW.from_place
    AND lot_code = COALESCE(NEW.lot_code, '') AND drum_serial = COALESCE(NEW.drum_serial, '') AND owner = NEW.owner;
  INSERT INTO balance (item_code, place_code, lot_code, drum_serial, owner, quantity_c)
  SELECT NEW.item_code, NEW.to_place, COALESCE(NEW.lot_code, ''), COALESCE(NEW.drum_serial, ''), NEW.owner, NEW.quantity_c
  WHERE NEW.to_place IS NOT NULL
  ON CONFLICT (item_code, place_code, lot_code, drum_serial, owner)
  DO UPDATE SET quantity_c = quantity_c + excluded.quantity_c;
  SELECT RAISE(ABORT, 'a drum is in one place: move all that is left on it')
  WHERE NEW.drum_serial IS NOT NULL
    AND (SELECT COUNT(*) FROM balance WHERE drum_serial = NEW.drum_serial AND quantity_c > 0) > 1;
  SELECT RAISE(ABORT, 'more cable than the drum was received with')
  WHERE NEW.drum_serial IS NOT NULL
    AND (SELECT COALESCE(SUM(quantity_c), 0) FROM balance WHERE drum_serial = NEW.drum_serial)
      > (SELECT received_c FROM drum WHERE serial = NEW.drum_serial);
END;
