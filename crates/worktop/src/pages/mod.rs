//! A file for each screen. A page is a function from a request to HTML; what changes something is a
//! form that answers with another page.

