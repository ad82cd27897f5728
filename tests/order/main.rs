//! Order and plan from outside.

mod command;
mod days;
mod floor;
mod goods;
mod marks;
mod monte_carlo;
mod packages;
mod pour;
