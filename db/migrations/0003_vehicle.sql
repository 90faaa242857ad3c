ALTER TABLE `crew` ADD `vehicle_place` text REFERENCES place(code) ON UPDATE cascade ON DELETE set null;
