//! The pages in process, over a shop of its own for each test.
