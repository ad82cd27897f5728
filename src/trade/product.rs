//! Products: what is bought in packages and stays in the floor. A product is an identity; its name is
//! for printing, and for the shop book and the records that people write.

use std::fmt;

use super::Good;
use crate::quantity::write;

/// A product that becomes part of the floor.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Product {
    /// Mortar of patches and skimmed spalls.
    PatchMortar,
    /// Resin of filled and chased cracks.
    CrackResin,
    /// Resin under delaminations.
    InjectionResin,
    /// Port that injection resin goes in through.
    InjectionPort,
    /// Rigid filler of joints, and of small spalls beside them.
    JointFiller,
    /// What takes oil out of the floor.
    Degreaser,
    /// Mortar of coves.
    CoveMortar,
    /// A layer of a coating.
    Layer(Layers, String),
    /// Backer rod of one stock size, µm: whole, so that equal sizes are one product.
    BackerRod(u64),
    /// Sealant of honored joints and cracks.
    Sealant,
}

/// What a layer belongs to.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layers {
    /// Moisture mitigation, laid under any system.
    Mitigation,
    /// A coating system of the shop book, by its name.
    System(String),
}

/// Anything that the order buys and the shop book has a price for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ware {
    /// It stays in the floor.
    Product(Product),
    /// It is worn or used up.
    Good(Good),
}

impl Product {
    /// Backer rod of a stock diameter, m.
    #[must_use]
    pub fn backer_rod(diameter_m: f64) -> Self {
        Self::BackerRod((diameter_m * 1e6).round().max(0.0) as u64)
    }

    /// Where its price stands in the shop book, as one would write it with that price.
    #[must_use]
    pub fn priced(&self, price: &str) -> String {
        match self {
            Self::Layer(of, layer) => format!("{of}: {{{layer}: {price}}}"),
            plain => format!("{plain}: {price}"),
        }
    }
}

impl fmt::Display for Layers {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Mitigation => "moisture mitigation",
            Self::System(name) => name,
        })
    }
}

crate::text::in_json_by!(Product);

impl fmt::Display for Product {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::PatchMortar => f.write_str("patch mortar"),
            Self::CrackResin => f.write_str("crack resin"),
            Self::InjectionResin => f.write_str("injection resin"),
            Self::InjectionPort => f.write_str("injection port"),
            Self::JointFiller => f.write_str("joint filler"),
            Self::Degreaser => f.write_str("degreaser"),
            Self::CoveMortar => f.write_str("cove mortar"),
            Self::Layer(of, name) => write!(f, "{of}: {name}"),
            Self::BackerRod(micrometers) => {
                let size = write::trade_size(*micrometers as f64 * 1e-6);
                write!(f, "backer rod {size}")
            }
            Self::Sealant => f.write_str("sealant"),
        }
    }
}

impl fmt::Display for Ware {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Product(product) => product.fmt(f),
            Self::Good(good) => f.write_str(good.name()),
        }
    }
}

impl From<Product> for Ware {
    fn from(product: Product) -> Self {
        Self::Product(product)
    }
}

impl From<Good> for Ware {
    fn from(good: Good) -> Self {
        Self::Good(good)
    }
}
