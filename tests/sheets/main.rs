//! Whole crew sets from sketches written as text: divided floors, crowded floors, the order of records.

mod divided;
mod economy;
mod floor;
mod hard;
mod odd;
mod papers;
mod random;
