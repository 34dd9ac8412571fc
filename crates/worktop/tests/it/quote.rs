//! The quote and the customer's yes.

use crate::Worktop;
use axum::http::StatusCode;

#[tokio::test]
async fn a_quote_shows_what_a_customer_needs_and_no_cost() {
    let (worktop, opened, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/quote")).await;
    let from = page.text.find("<article class=\"quote\">").unwrap();
    let to = page.text.find("</article>").unwrap();
    let sheet = &page.text[from..to];
    let plan = worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
    let price = plan.price.as_ref().unwrap();
    for shown in
        [price.charged.gross, price.charged.tax, price.charged.deposit, price.charged.balance]
    {
        assert!(sheet.contains(&plan.money(shown)), "{shown}");
    }
    for private in [price.cost, price.profit, price.floor] {
        assert!(!sheet.contains(&plan.money(private)), "{private}");
    }
    for part in
        ["Holds until", "Ready by", "Deposit", "Terms", "Care", "picture.svg", "badge", "plate"]
    {
        assert!(sheet.contains(part), "{part}");
    }
    assert!(!sheet.contains("no-print"), "all of it is printed");
}

#[tokio::test]
async fn a_yes_is_written_shown_and_says_what_changed_after_it() {
    let (worktop, opened, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/quote")).await;
    let hidden = |name: &str| page.hidden("/quote/yes", name);
    let (nonce, hash, price) = (hidden("nonce"), hidden("hash"), hidden("price"));
    let sent = [
        ("nonce", nonce.as_str()),
        ("hash", &hash),
        ("price", &price),
        ("who", "Ines"),
        ("how", "at the counter"),
        ("note", ""),
    ];
    let done = worktop.post(&format!("{at}/quote/yes"), &sent).await;
    assert!(done.to().starts_with(&format!("{at}/quote?done=")));
    worktop.post(&format!("{at}/quote/yes"), &sent).await.to();
    assert_eq!(worktop.desk.shop().approvals(opened.document.id).unwrap().len(), 1);
    let page = worktop.get(&format!("{at}/quote")).await;
    assert!(page.text.contains("Agreed by Ines"), "{}", page.text);
    let order = worktop.get(&at).await;
    assert!(order.text.contains("Yes by <strong>Ines</strong>"));

    let from = opened.revision.id.to_string();
    let back = format!("{at}/quote");
    let change = [("from", from.as_str()), ("page", &back), ("piece.1.quantity", "5")];
    worktop.post(&format!("{at}/change"), &change).await.to();
    let changed = worktop.desk.open(opened.document.id).unwrap();
    worktop.desk.plan(&changed, &lay::Unwatched).unwrap();
    for address in [&back, &at] {
        let page = worktop.get(address).await;
        assert!(
            page.text.contains("What stands now is not what the customer said yes to"),
            "{address}"
        );
        assert!(page.text.contains("Copies of “badge”: 5 instead of 4"), "{address}");
    }
    let stale = worktop
        .post(&format!("{at}/quote/yes"), &[sent[1], sent[2], sent[3], ("nonce", "other")])
        .await;
    assert_eq!(stale.status, StatusCode::UNPROCESSABLE_ENTITY, "a yes to an older quote");
    assert!(stale.text.contains("value=\"Ines\""), "what was typed is kept");

    let page = worktop.get(&back).await;
    let yes = page.hidden("/quote/withdraw", "yes");
    let sent = [("yes", yes.as_str()), ("who", "Ines"), ("how", "on the phone"), ("note", "")];
    worktop.post(&format!("{at}/quote/withdraw"), &sent).await.to();
    let page = worktop.get(&back).await;
    assert!(page.text.contains("The yes was withdrawn"));
}

#[tokio::test]
async fn the_words_of_every_quote_are_the_workshops_own() {
    let (worktop, _, at) = Worktop::with_plan();
    let sent =
        [("from", "Harbour workshop\r\nQuay 3"), ("terms", "Paid on the day."), ("care", "")];
    worktop.post(&format!("{at}/quote/words"), &sent).await.to();
    let page = worktop.get(&format!("{at}/quote")).await;
    assert!(page.text.contains("Harbour workshop<br>Quay 3"));
    assert!(page.text.contains("Paid on the day."));
    assert!(page.text.contains("Wipe with a soft, damp cloth"), "what is empty is as usual");
}
