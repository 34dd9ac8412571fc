//! Values as the database keeps them.
