//! What an order and the workshop have from each other.

use crate::Worktop;
use desk::Bundle;

/// An order with a stone and stock of its own.
const ORDER: &str = r##"
stonelay = 1
order = "Quay sign"

[[kind]]
name = "tin"
size = "SS16"
colour = "#808080"
pack = 144

[[stock]]
kind = "tin"
stones = 300
lot = "T1"
"##;

#[tokio::test]
async fn an_order_offers_what_the_workshop_does_not_know_and_it_is_taken_once() {
    let worktop = Worktop::new();
    let opened = worktop.desk.import(&Bundle { text: ORDER.to_owned(), files: vec![] }).unwrap();
    let path = format!("/orders/{}/offer", opened.document.id);
    let page = worktop.get(&path).await;
    assert!(page.text.contains("stone: tin") && page.text.contains("tin, lot T1"), "{}", page.text);
    let nonce = page.hidden("<form method=\"post\" action=\"/orders/", "nonce");
    let entry = "{\"sort\":\"kind\",\"name\":\"tin\"}";
    for _ in 0..2 {
        let fields =
            [("nonce", nonce.as_str()), ("entry", entry), ("stock", "tin/T1/300"), ("who", "")];
        worktop.post(&path, &fields).await.to();
    }
    let tin = worktop.desk.shelf_stone("tin").unwrap();
    assert_eq!((tin.on_hand, tin.known.unwrap().pack), (300, Some(144)));
    assert!(worktop.get(&path).await.text.contains("has everything"));
}

#[tokio::test]
async fn an_order_is_told_that_the_workshop_has_it_otherwise() {
    let worktop = Worktop::new();
    let opened = worktop.desk.import(&Bundle { text: ORDER.to_owned(), files: vec![] }).unwrap();
    let id = opened.document.id;
    worktop.desk.learn(id, &[app::adopt::Entry::Kind("tin".to_owned())]).unwrap();
    let page = format!("/orders/{id}");
    assert!(!worktop.get(&page).await.text.contains("otherwise today"));
    let workshop = worktop.desk.workshop().unwrap();
    let set =
        app::edit::Change::Set { path: "kind.1.pack".parse().unwrap(), value: "288".to_owned() };
    worktop.desk.change(workshop.document.id, workshop.revision.id, &[set], "pack", None).unwrap();
    let shown = worktop.get(&page).await;
    assert!(
        shown.text.contains("otherwise today") && shown.text.contains("stone: tin"),
        "{}",
        shown.text
    );
    let from = shown.hidden("/refresh", "from");
    let fields = [
        ("from", from.as_str()),
        ("page", page.as_str()),
        ("entry", "{\"sort\":\"kind\",\"name\":\"tin\"}"),
    ];
    worktop.post(&format!("{page}/refresh"), &fields).await.to();
    assert_eq!(worktop.desk.open(id).unwrap().order.kinds[0].pack, Some(288));
    assert!(!worktop.get(&page).await.text.contains("otherwise today"));
}
