//! The program from outside: published numbers, commands, properties, and the rules of the house.

mod commands;
mod common;
mod dependencies;
mod drawings;
mod geos;
mod holds;
mod house;
mod owner;
mod pages;
mod papers;
mod pictures;
mod properties;
mod sketching;
mod vectors;
