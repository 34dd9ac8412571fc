//! What a plan needs beside the pieces: how the maker works, what is there, what is sold, what it
//! costs.
//!
//! | keys | file |
//! |---|---|
//! | `[workshop]`, `[[log]]` | `workshop` |
//! | `[[stock]]`, `stock_file`, `[[supplier]]` | `supply` |
//! | `[[adhesive]]`, and a piece's keys for the bench | `adhesives` |
//! | `[price]` | `price` |
//! | `[[kit]]`, `[[bag]]` | `sale` |

mod adhesives;
mod price;
mod sale;
mod supply;
mod value;
mod workshop;

pub use adhesives::{Bench, Way};
pub use price::Price;
pub use sale::{Bag, Content, Kit};
pub use supply::FileName;
pub use workshop::{LogEntry, Workshop};

pub(super) use adhesives::{Known, bench};
pub(crate) use value::decimal;

use super::entries;
use super::mixes::{Shelf, Unfolding};
use super::pieces::Names;
use super::walk::{Fields, Node, nearest, shortened};
use jiff::civil::Date;
use planning::adhesive::Adhesive;
use planning::buying::{Offer, Stock, Supplier};
use planning::price::Currency;
use value::maybe;

/// Suppliers that are compared at most.
const MOST_SUPPLIERS: usize = 64;

/// What a plan needs beside the pieces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Terms {
    /// The day on which the order must be ready.
    pub due: Option<Date>,
    /// How the maker works.
    pub workshop: Workshop,
    /// What happened before.
    pub log: Vec<LogEntry>,
    /// What is on the shelf.
    pub stock: Vec<Stock>,
    /// A table of what is on the shelf.
    pub stock_file: Option<FileName>,
    /// Who sells stones.
    pub suppliers: Vec<Supplier>,
    /// What they offer; kinds by their index in the document.
    pub offers: Vec<Offer>,
    /// What is glued with.
    pub adhesives: Vec<Adhesive>,
    /// What is charged.
    pub price: Price,
    /// Kits that are packed.
    pub kits: Vec<Kit>,
    /// Mixes that are sold.
    pub bags: Vec<Bag>,
}

/// The keys of the document that belong to its terms. They are taken first and read last, when the
/// pieces that some of them name are known.
pub(super) struct Keys<'a, 'i> {
    due: Option<Node<'a, 'i>>,
    workshop: Option<Node<'a, 'i>>,
    stock_file: Option<Node<'a, 'i>>,
    price: Option<Node<'a, 'i>>,
    log: Vec<Node<'a, 'i>>,
    stock: Vec<Node<'a, 'i>>,
    suppliers: Vec<Node<'a, 'i>>,
    kits: Vec<Node<'a, 'i>>,
    bags: Vec<Node<'a, 'i>>,
}

impl<'a, 'i> Keys<'a, 'i> {
    /// Takes them from the document.
    pub(super) fn take(root: &mut Fields<'a, 'i>) -> Keys<'a, 'i> {
        let mut list = |key| entries(root, key).unwrap_or_default();
        let (log, stock) = (list("log"), list("stock"));
        let (suppliers, kits, bags) = (list("supplier"), list("kit"), list("bag"));
        Keys {
            due: root.get("due"),
            workshop: root.get("workshop"),
            stock_file: root.get("stock_file"),
            price: root.get("price"),
            log,
            stock,
            suppliers,
            kits,
            bags,
        }
    }

    /// The currency that `[price]` names, if it names one; what is wrong with it is said when it is
    /// read.
    pub(super) fn currency(&self) -> Option<Currency> {
        price::peeked(self.price.as_ref()?)
    }

    /// Reads them, but for the adhesives. `pieces` are the names of the pieces, as far as they
    /// could be read.
    pub(super) fn read(
        self,
        shelf: &Shelf,
        unfolding: &mut Unfolding<'_, '_, '_>,
        pieces: &[Option<String>],
    ) -> Option<Terms> {
        let due = maybe(self.due, Node::date);
        let workshop = maybe(self.workshop, workshop::workshop);
        let log = each(&self.log, |n| workshop::entry(n, shelf));
        let log = log.filter(|log| workshop::whole_log(&self.log, log).is_some());
        let stock = each(&self.stock, |n| supply::stock(n, shelf));
        let stock_file = maybe(self.stock_file, supply::stock_file);
        let mut taken = Names::new();
        let mut index = 0..;
        let suppliers =
            each(&self.suppliers, |n| supply::supplier(n, index.next()?, shelf, &mut taken));
        if let Some(node) = self.suppliers.get(MOST_SUPPLIERS) {
            let text = format!("{} suppliers are too many", self.suppliers.len());
            let hint = format!("at most {MOST_SUPPLIERS} are compared");
            node.wrong::<()>(text, hint);
        }
        let price = maybe(self.price, price::price);
        let mut taken = Names::new();
        let kits = each(&self.kits, |n| sale::kit(n, pieces, &mut taken));
        let mut taken = Names::new();
        let bags = each(&self.bags, |n| sale::bag(n, shelf, unfolding, &mut taken));
        if let (Some(bag), Some(price)) = (self.bags.first(), &price)
            && price.as_ref().is_none_or(|p| p.currency.is_none())
        {
            let hint = "add `[price]` with `currency = \"EUR\"`, or the like";
            bag.wrong::<()>("a bag is sold, but the document names no currency", hint);
        }
        let (suppliers, offers): (Vec<Supplier>, Vec<Vec<Offer>>) = suppliers?.into_iter().unzip();
        Some(Terms {
            due: due?,
            workshop: workshop?.unwrap_or_default(),
            log: log?,
            stock: stock?,
            stock_file: stock_file?,
            suppliers,
            offers: offers.concat(),
            adhesives: vec![],
            price: price?.unwrap_or_default(),
            kits: kits?,
            bags: bags?,
        })
    }
}

/// Reads every `[[adhesive]]`; pieces name them.
pub(super) fn adhesives(root: &mut Fields<'_, '_>) -> Option<Vec<Adhesive>> {
    let mut taken = Names::new();
    let nodes = entries(root, "adhesive").unwrap_or_default();
    each(&nodes, |n| adhesives::adhesive(n, &mut taken))
}

/// Every table of a list by `read`; all are read before one decides.
fn each<'a, 'i, T>(
    nodes: &[Node<'a, 'i>],
    read: impl FnMut(&Node<'a, 'i>) -> Option<T>,
) -> Option<Vec<T>> {
    let read: Vec<Option<T>> = nodes.iter().map(read).collect();
    read.into_iter().collect()
}

/// The name of a piece that there is.
fn piece_named(node: &Node<'_, '_>, pieces: &[Option<String>]) -> Option<String> {
    let name = node.text("a name in quotes", "the name of a piece")?.trim();
    let known: Vec<&str> = pieces.iter().flatten().map(String::as_str).collect();
    if known.contains(&name) {
        return Some(name.to_owned());
    }
    let hint = match nearest(name, &known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "write the name of a `[[piece]]`".to_owned(),
    };
    node.wrong(format!("there is no piece `{}`", shortened(name)), hint)
}
