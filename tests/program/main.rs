//! The program from outside: published numbers, commands, properties, and the rules of the house.

mod columns;
mod commands;
mod common;
mod dependencies;
mod drawings;
mod geos;
mod glossary;
mod holds;
mod house;
mod owner;
mod pages;
mod papers;
mod pictures;
mod properties;
mod sketching;
mod vectors;
