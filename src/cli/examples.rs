//! Examples below the help of each command. A test runs every line of them against a demonstration floor.

pub const CHECK: &str = "\
Examples:
  slabwalk check garage.yaml                       errors and findings, with lines
  slabwalk check garage.yaml kitchen.yaml          several sketches
  slabwalk check garage.yaml --shop my-shop.yaml   with the numbers of your own shop

Gives 1 if there is an error or a stop. A stop means: nobody cuts or grinds
there until it is cleared.";

pub const TAKEOFF: &str = "\
Examples:
  slabwalk takeoff garage.yaml                     the quantities, as tables
  slabwalk takeoff garage.yaml --explain J1 area   how these numbers were reached
  slabwalk takeoff garage.yaml --format csv        for a spreadsheet
  slabwalk takeoff garage.yaml --format json       for a script, in SI units";

pub const ORDER: &str = "\
Examples:
  slabwalk order garage.yaml                       what to buy, in whole packages
  slabwalk order garage.yaml --shop my-shop.yaml   with the packages of your own shop
  slabwalk order garage.yaml --format csv          for a spreadsheet";

pub const DAYS: &str = "\
Examples:
  slabwalk days garage.yaml                        the plan, day by day
  slabwalk days garage.yaml --format json          for a script

Dates need the first day in the sketch: `start: 2026-09-21` under `coating:`.";

pub const QUICK: &str = "\
Examples:
  slabwalk quick --system flake --area '480 ft2'
  slabwalk quick --system flake --area '480 ft2' --joint '60 ft' --crack '10 ft'
  slabwalk quick --system quartz --area 45 --units metric --format json
  slabwalk quick --system flake --area '480 ft2' --shop my-shop.yaml

A range for the telephone, by the shop book's own build-up, with what it takes
for granted; no offer. The built-in prices are invented examples. Set your own
under prices: in the shop book.";

pub const PACKET: &str = "\
Examples:
  slabwalk packet garage.yaml                      everything, into out/garage/
  slabwalk packet garage.yaml --out jobs           into jobs/garage/
  slabwalk packet garage.yaml kitchen.yaml         one folder for each floor
  slabwalk packet garage.yaml kitchen.yaml --jobs 1
                                                   one after another

A packet is written whole or not at all. Of several, those that can be made are
made; the last lines say which could not, and the exit code is the worst of
them. Print crew-map.pdf at 100 %.";

pub const SHOP: &str = "\
Examples:
  slabwalk shop                                    every default, with its source
  slabwalk shop my-shop.yaml                       with your own values over it";

pub const NEW: &str = "\
Examples:
  slabwalk new \"Harrow Lane\" --size \"24'\" \"22'\"          24 ft wide, 22 ft deep
  slabwalk new shed --walk \"E 24', N 22', W 10', close\"  walls one by one
  slabwalk new hall --size 7.3 6.7 --units metric        in meters

Without --size and --walk it asks, if it runs in a terminal. It never writes
over a file.";

pub const EDIT: &str = "\
Examples:
  slabwalk edit garage.yaml --set cracks.C1.note wet   only this value changes
  slabwalk edit garage.yaml --set job.client 'A. Sample'
  slabwalk edit garage.yaml --add levels \"{at: [2', 2'], height: 1/8}\"
  slabwalk edit garage.yaml --remove spalls.S3         the record with its line

In a list stands the id of a record, or its number from 1. A change that would
put an error into the sketch is not written.";

pub const FORMAT: &str = "\
Examples:
  slabwalk format garage.yaml                      in its place, in one step
  slabwalk format garage.yaml --stdout             print it instead
  slabwalk format garage.yaml --check              only say whether it is in order

Comments stay, and the floor stays the same. A sketch with errors is left as it is.";

pub const SCHEMA: &str = "\
Examples:
  slabwalk schema > sketch.json                    the schema of a sketch
  slabwalk schema shop > shop.json                 the schema of a shop book

An editor with a YAML language server reads it if the first line of the sketch is
# yaml-language-server: $schema=sketch.json";

pub const COMPLETIONS: &str = "\
Examples:
  slabwalk completions bash > slabwalk.bash        then: source slabwalk.bash
  slabwalk completions zsh > _slabwalk             into a folder of your fpath
  slabwalk completions fish > slabwalk.fish        into ~/.config/fish/completions/";

pub const MANUAL: &str = "\
Examples:
  slabwalk manual > slabwalk.1                     then: man -l slabwalk.1";
