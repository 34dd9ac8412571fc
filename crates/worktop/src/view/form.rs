//! Forms made from the catalogue of keys: every key of a document can be reached, the unusual ones
//! folded away.
//!
//! A field's name is its path in the document, so that what is sent back says itself where it
//! belongs.

use crate::problem::FaultAt;
use crate::view::swatch;
use app::edit::{Path, Sheet};
use app::fields::{Field, Sort, Table};
use maud::{Markup, html};
use std::collections::BTreeMap;

/// What was typed and could not be taken, to be shown again with what is wrong.
#[derive(Clone, Debug, Default)]
pub(crate) struct Typed {
    /// What was typed, by path.
    pub(crate) values: BTreeMap<String, String>,
    /// What is wrong.
    pub(crate) faults: Vec<FaultAt>,
}

/// Makes the fields of one document.
pub(crate) struct Form<'a> {
    /// Its text.
    pub(crate) sheet: &'a Sheet<'a>,
    /// What was typed last, if it could not be taken.
    pub(crate) typed: &'a Typed,
}

impl Form<'_> {
    /// What stands in a field: what was typed, or what the document says.
    fn value(&self, path: &Path) -> Option<String> {
        let typed = self.typed.values.get(&path.to_string()).cloned();
        typed.or_else(|| self.sheet.value(path))
    }

    fn faults(&self, path: &Path) -> impl Iterator<Item = &FaultAt> {
        let path = path.to_string();
        self.typed.faults.iter().filter(move |f| f.path.as_deref() == Some(&path))
    }

    /// Faults that no field of the page shows.
    pub(crate) fn summary(&self) -> Markup {
        html! {
            @if !self.typed.faults.is_empty() {
                div.notice.serious role="alert" tabindex="-1" data-module="first" {
                    p { strong { "This could not be taken; nothing was changed." } }
                    ul {
                        @for fault in &self.typed.faults {
                            li {
                                @if !fault.place.is_empty() { (fault.place) ": " }
                                @match &fault.path {
                                    Some(path) => a href={ "#" (id(path)) } { (fault.text) },
                                    None => (fault.text),
                                }
                                @if let Some(hint) = &fault.hint { " – " (hint) }
                            }
                        }
                    }
                }
            }
        }
    }

    /// The fields of a table: the usual ones, then the unusual ones folded away. `skip` are keys
    /// that the page shows elsewhere.
    pub(crate) fn table(&self, at: &Path, table: Table, skip: &[&str]) -> Markup {
        let belongs = |f: &&Field| {
            !skip.contains(&f.key)
                && (f.belongs(|key| self.value(&at.key(key)))
                    || self.value(&at.key(f.key)).is_some())
        };
        let (unusual, usual): (Vec<&Field>, Vec<&Field>) =
            table.fields().iter().filter(belongs).partition(|f| f.unusual);
        let open = unusual.iter().any(|f: &&Field| self.faults(&at.key(f.key)).next().is_some());
        html! {
            div.fields { @for field in usual { (self.field(at, field)) } }
            @if !unusual.is_empty() {
                details.more open[open] {
                    summary { "More" }
                    div.fields { @for field in unusual { (self.field(at, field)) } }
                }
            }
        }
    }

    /// The fields of a table in a row, without their help: what stands beside them says enough.
    fn short(&self, at: &Path, table: Table) -> Markup {
        let value = |key: &str| self.value(&at.key(key));
        let shown = |f: &&Field| {
            f.sort != Sort::Table && (value(f.key).is_some() || (f.belongs(value) && !f.unusual))
        };
        html! {
            @for field in table.fields().iter().filter(shown) {
                @let path = at.key(field.key);
                @let (name, id) = (path.to_string(), id(&path.to_string()));
                @let wrong: Vec<_> = self.faults(&path).collect();
                @let help = format!("{id}-help");
                div.field {
                    label for=(id) { (field.label) }
                    (self.widget(&name, &id, field, value(field.key).as_deref().unwrap_or_default(), &help, !wrong.is_empty()))
                    p.hint id=(help) { @for fault in &wrong { span.wrong { (fault.text) } " " } }
                }
            }
        }
    }

    /// The field of one key, by name.
    pub(crate) fn named(&self, at: &Path, table: Table, key: &str) -> Markup {
        html! { @if let Some(field) = table.field(key) { (self.field(at, field)) } }
    }

    /// One field, or the fields of a table within.
    pub(crate) fn field(&self, at: &Path, field: &Field) -> Markup {
        let path = at.key(field.key);
        match (field.sort, field.table) {
            (Sort::Table, Some(table)) => html! {
                fieldset.within { legend { (field.label) } (self.table(&path, table, &[])) }
            },
            (Sort::Tables, Some(table)) => self.tables(&path, field, table),
            (Sort::List(sort @ (Sort::Kind | Sort::Choice(_))), _) => {
                self.ticks(&path, field, sort)
            }
            // Some keys may be said in a word or in a table of their own.
            (_, Some(table)) if !self.sheet.keys(&path).is_empty() => html! {
                fieldset.within {
                    legend { (field.label) }
                    (self.table(&path, table, &[]))
                    button.plain name="do" value={ "clear " (path) } { "Say it in a word" }
                }
            },
            (_, Some(_)) => html! {
                div {
                    (self.single(&path, field))
                    button.plain name="do" value={ "detail " (path) } { (field.label) " in detail" }
                }
            },
            _ => self.single(&path, field),
        }
    }

    /// A field with one value.
    fn single(&self, path: &Path, field: &Field) -> Markup {
        let name = path.to_string();
        let id = id(&name);
        let value = self.value(path);
        let wrong: Vec<_> = self.faults(path).collect();
        let described = format!("{id}-help");
        html! {
            div.field {
                label for=(id) { (field.label) @if field.needed { span.hint { " (needed)" } } }
                (self.widget(&name, &id, field, value.as_deref().unwrap_or_default(), &described, !wrong.is_empty()))
                p.hint id=(described) {
                    @for fault in &wrong {
                        span.wrong { (fault.text) @if let Some(hint) = &fault.hint { " – " (hint) } } " "
                    }
                    (field.help)
                    @if !field.usual.is_empty() { " Usual: " (usual_of(field)) "." }
                }
            }
        }
    }

    fn widget(
        &self,
        name: &str,
        id: &str,
        field: &Field,
        value: &str,
        help: &str,
        wrong: bool,
    ) -> Markup {
        let invalid = wrong.then_some("true");
        let usual = if field.usual.is_empty() {
            "not said".to_owned()
        } else {
            format!("usual: {}", usual_of(field))
        };
        let options = |words: Vec<(String, String)>| {
            let known = value.is_empty() || words.iter().any(|w| w.0 == value);
            html! {
                select name=(name) id=(id) aria-describedby=(help) aria-invalid=[invalid] {
                    @if !field.needed || value.is_empty() { option value="" selected[value.is_empty()] { (usual) } }
                    @for (word, label) in &words { option value=(word) selected[value == word] { (label) } }
                    @if !known { option value=(value) selected { (value) } }
                }
            }
        };
        let named = |list: &str| {
            let names = list.parse().map(|p| self.sheet.names(&p)).unwrap_or_default();
            names.into_iter().map(|n| (n.clone(), n)).collect::<Vec<_>>()
        };
        match field.sort {
            Sort::Choice(words) => {
                options(words.iter().map(|c| (c.word.to_owned(), c.label.to_owned())).collect())
            }
            Sort::Flag => {
                options(vec![("true".into(), "yes".into()), ("false".into(), "no".into())])
            }
            Sort::Kind => options(named("kind")),
            Sort::Mix => options([named("kind"), named("mix")].concat()),
            Sort::Adhesive => options(named("adhesive")),
            Sort::Piece => options(named("piece")),
            Sort::Colour => html! {
                span.row {
                    (swatch(if value.is_empty() { "#c0c0c0" } else { value }))
                    input.grow type="text" name=(name) id=(id) value=(value) placeholder=(field.usual)
                        aria-describedby=(help) aria-invalid=[invalid] data-module="colour" spellcheck="false";
                }
            },
            Sort::Day => html! {
                input type="date" name=(name) id=(id) value=(value) aria-describedby=(help) aria-invalid=[invalid];
            },
            Sort::List(Sort::Name) => html! {
                textarea name=(name) id=(id) rows=(value.lines().count().clamp(2, 12)) placeholder=(field.usual) autocomplete="off"
                    aria-describedby=(help) aria-invalid=[invalid] { (value) }
            },
            _ => html! {
                input type="text" name=(name) id=(id) value=(value) placeholder=(field.usual) autocomplete="off"
                    aria-describedby=(help) aria-invalid=[invalid] inputmode=[(field.sort == Sort::Whole).then_some("numeric")];
            },
        }
    }

    /// A list of names or words: one box to tick for each.
    fn ticks(&self, path: &Path, field: &Field, sort: &Sort) -> Markup {
        let words: Vec<(String, String)> = match sort {
            Sort::Choice(words) => {
                words.iter().map(|c| (c.word.to_owned(), c.label.to_owned())).collect()
            }
            _ => {
                let names = "kind".parse().map(|p| self.sheet.names(&p)).unwrap_or_default();
                names.into_iter().map(|n| (n.clone(), n)).collect()
            }
        };
        let chosen: Vec<String> = (1..=self.sheet.count(path))
            .filter_map(|n| self.sheet.value(&path.number(n)))
            .collect();
        let told = if chosen.is_empty() { usual_of(field) } else { chosen.join(", ") };
        html! {
            details.field.ticks {
              summary { (field.label) ": " span.hint { (told) } }
              fieldset {
                legend.quiet { (field.label) }
                // Says that the list was on the form: none ticked is an empty list.
                input type="hidden" name={ (path) "[]" } value="";
                @for (word, label) in words {
                    @let id = id(&format!("{path}-{word}"));
                    div.tick {
                        input type="checkbox" name={ (path) "[]" } id=(id) value=(word) checked[chosen.contains(&word)];
                        label for=(id) { (label) }
                    }
                }
                p.hint { (field.help) }
              }
            }
        }
    }

    /// The parts of a mix: a kind or mix each, with its share; and ways to add and take out.
    pub(crate) fn parts(&self, path: &Path) -> Markup {
        let n = self.sheet.count(path);
        let first = self.sheet.names(&Path::root().key("kind")).into_iter().next();
        html! {
            fieldset.within {
                legend { "Mix" }
                @for i in 1..=n {
                    @let part = path.number(i);
                    div.part {
                        (self.short(&part, Table::Part))
                        @if n > 1 { button.plain.grave name="do" value={ "remove " (part) } { "Take out" } }
                    }
                }
                @if first.is_some() { button.plain name="do" value={ "add " (path) } { "Add a kind to the mix" } }
            }
        }
    }

    /// A list of tables: the fields of each, and ways to add one and take one out.
    fn tables(&self, path: &Path, field: &Field, table: Table) -> Markup {
        let n = self.sheet.count(path);
        html! {
            fieldset.within {
                legend { (field.label) }
                p.hint { (field.help) }
                @for i in 1..=n {
                    @let entry = path.number(i);
                    @let name = self.sheet.value(&entry.key("name")).or_else(|| self.sheet.value(&entry.key("kind")));
                    details.entry {
                        summary { (i) ". " (name.unwrap_or_default()) }
                        (self.table(&entry, table, &[]))
                        button.plain.grave name="do" value={ "remove " (entry) } { "Take out" }
                    }
                }
                button.plain name="do" value={ "add " (path) } { "Add" }
            }
        }
    }
}

/// What stands if a key is left out, in words.
fn usual_of(field: &Field) -> String {
    match (field.sort, field.usual) {
        (Sort::Flag, "true") => "yes".to_owned(),
        (Sort::Flag, "false") => "no".to_owned(),
        (Sort::Choice(words), usual) => {
            let found = words.iter().find(|c| c.word == usual);
            found.map_or(usual, |c| c.label).to_owned()
        }
        (_, "") => "none".to_owned(),
        (_, usual) => usual.to_owned(),
    }
}

/// The id of the field of a path: what an id may hold.
pub(crate) fn id(path: &str) -> String {
    path.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect()
}
