//! The program from outside: published numbers, commands, properties, and the rules of the house.

mod commands;
mod common;
mod geos;
mod house;
mod properties;
mod vectors;
