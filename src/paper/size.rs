//! Paper: sizes that an office printer or a copy shop has, in either direction.

/// A size that a printer or a copy shop has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Size {
    /// ANSI A, 8.5 × 11 in.
    Letter,
    /// ANSI B, 11 × 17 in.
    Tabloid,
    /// ISO 216, 210 × 297 mm.
    A4,
    /// ISO 216, 297 × 420 mm.
    A3,
    /// ANSI D, 22 × 34 in.
    AnsiD,
}

impl Size {
    /// All sizes.
    pub const ALL: [Self; 5] = [Self::Letter, Self::Tabloid, Self::A4, Self::A3, Self::AnsiD];

    /// Shorter and longer side, mm (ANSI/ASME Y14.1 and ISO 216).
    #[must_use]
    pub const fn sides(self) -> (f64, f64) {
        match self {
            Self::Letter => (215.9, 279.4),
            Self::Tabloid => (279.4, 431.8),
            Self::A4 => (210.0, 297.0),
            Self::A3 => (297.0, 420.0),
            Self::AnsiD => (558.8, 863.6),
        }
    }

    /// Name on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::Tabloid => "tabloid",
            Self::A4 => "a4",
            Self::A3 => "a3",
            Self::AnsiD => "ansi-d",
        }
    }

    /// What the person at the printer has to choose.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Letter => "8 1/2 × 11 IN",
            Self::Tabloid => "11 × 17 IN",
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::AnsiD => "22 × 34 IN",
        }
    }
}

/// Which side is up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Longer side level.
    Landscape,
    /// Longer side upright.
    Portrait,
}

/// A sheet of paper, laid one way or the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Paper {
    /// How long its two sides are.
    pub size: Size,
    /// Which of them lies level.
    pub direction: Direction,
}

impl Paper {
    /// Longer side level.
    #[must_use]
    pub const fn landscape(size: Size) -> Self {
        Self { size, direction: Direction::Landscape }
    }

    /// Longer side upright.
    #[must_use]
    pub const fn portrait(size: Size) -> Self {
        Self { size, direction: Direction::Portrait }
    }

    /// The paper of a sheet, by its width and height, mm.
    #[must_use]
    pub fn of(width: f64, height: f64) -> Option<Self> {
        let all = Size::ALL.into_iter();
        let mut all = all.flat_map(|size| [Self::landscape(size), Self::portrait(size)]);
        all.find(|p| (p.width() - width).abs() + (p.height() - height).abs() < 1e-6)
    }

    /// The same paper, the other side up.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self.direction {
            Direction::Landscape => Self::portrait(self.size),
            Direction::Portrait => Self::landscape(self.size),
        }
    }

    /// Its name on the command line, as [`Self::parse`] reads it.
    #[must_use]
    pub fn name(self) -> String {
        match self.direction {
            Direction::Landscape => self.size.name().to_owned(),
            Direction::Portrait => format!("{}-portrait", self.size.name()),
        }
    }

    /// Width, mm.
    #[must_use]
    pub const fn width(self) -> f64 {
        let (short, long) = self.size.sides();
        match self.direction {
            Direction::Landscape => long,
            Direction::Portrait => short,
        }
    }

    /// Height, mm.
    #[must_use]
    pub const fn height(self) -> f64 {
        let (short, long) = self.size.sides();
        match self.direction {
            Direction::Landscape => short,
            Direction::Portrait => long,
        }
    }

    /// Reads `tabloid`, `a4`, `letter-portrait`, `a3-landscape`; landscape where nothing is said.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim().to_ascii_lowercase();
        let (name, direction) = if let Some(name) = text.strip_suffix("-portrait") {
            (name, Direction::Portrait)
        } else {
            let name = text.strip_suffix("-landscape").unwrap_or(&text);
            (name, Direction::Landscape)
        };
        let size = Size::ALL.into_iter().find(|s| s.name() == name)?;
        Some(Self { size, direction })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back() {
        for size in Size::ALL {
            assert_eq!(Paper::parse(size.name()), Some(Paper::landscape(size)));
            let upright = format!("{}-portrait", size.name());
            assert_eq!(Paper::parse(&upright), Some(Paper::portrait(size)));
            assert_eq!(Paper::landscape(size).turned().name(), upright);
        }
        assert_eq!(Paper::parse("A4-landscape"), Some(Paper::landscape(Size::A4)));
        assert_eq!(Paper::parse("napkin"), None);
    }

    #[test]
    fn tabloid_landscape_is_seventeen_by_eleven_inches() {
        let paper = Paper::landscape(Size::Tabloid);
        assert!((paper.width() - 17.0 * 25.4).abs() < 1e-9);
        assert!((paper.height() - 11.0 * 25.4).abs() < 1e-9);
    }
}
