//! The owner's price as text, CSV and JSON. Not for the customer: it shows cost.
