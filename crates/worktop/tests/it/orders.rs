//! Orders that tests begin with, and how a change of one is taken back.

use crate::Worktop;
use app::edit::Change;
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use desk::{Bundle, Opened};
use shop::RevisionId;

/// Badges for the marshals of a lantern festival, and one plate.
pub(crate) const BADGES: &str = include_str!("../../../desk/tests/badges.toml");

impl Worktop {
    /// With such an order, and its address.
    pub(crate) fn with_order(text: &str) -> (Worktop, Opened, String) {
        let worktop = Worktop::new();
        let bundle = Bundle { text: text.to_owned(), files: vec![] };
        let opened = worktop.desk.import(&bundle).unwrap();
        let at = format!("/orders/{}", opened.document.id);
        (worktop, opened, at)
    }

    /// With the order above, laid and planned already.
    pub(crate) fn with_plan() -> (Worktop, Opened, String) {
        let (worktop, opened, at) = Worktop::with_order(BADGES);
        worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
        (worktop, opened, at)
    }
}

/// Three changes after another; gives the last revision.
fn changed_thrice(worktop: &Worktop, opened: &Opened) -> RevisionId {
    let widen = |from: RevisionId, mm: &str| {
        let value = format!("{mm} mm");
        let set = Change::Set { path: "piece.1.margin".parse().unwrap(), value };
        worktop.desk.change(opened.document.id, from, &[set], "margin", None).unwrap().revision.id
    };
    ["0.6", "0.7", "0.8"].iter().fold(opened.revision.id, |from, mm| widen(from, mm))
}

fn margin(worktop: &Worktop, opened: &Opened) -> String {
    let text = worktop.desk.open(opened.document.id).unwrap().revision.text;
    text.split("margin = \"").nth(1).unwrap().split('"').next().unwrap().to_owned()
}

#[tokio::test]
async fn undo_that_is_sent_twice_takes_one_change_back_and_says_so() {
    let (worktop, opened, at) = Worktop::with_order(BADGES);
    let last = changed_thrice(&worktop, &opened).0.to_string();
    let page = worktop.get(&at).await;
    assert_eq!(page.hidden("class=\"row history", "from"), last);
    let undo = format!("{at}/undo");
    let sent = [("from", last.as_str()), ("back", at.as_str())];
    assert!(worktop.post(&undo, &sent).await.to().starts_with(&at));
    let again = worktop.post(&undo, &sent).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    assert!(
        again.text.contains("look at what it is now") || again.text.contains("Look at what"),
        "{}",
        again.text
    );
    let redo = worktop.post(&format!("{at}/redo"), &sent).await;
    assert_eq!(
        redo.status,
        StatusCode::CONFLICT,
        "redo from a revision that is not there any more"
    );
    assert_eq!(margin(&worktop, &opened), "0.7 mm");
}

#[tokio::test]
async fn a_program_that_undoes_from_an_old_revision_is_told_by_a_problem() {
    let (worktop, opened, at) = Worktop::with_order(BADGES);
    let last = changed_thrice(&worktop, &opened).0;
    for wanted in [StatusCode::OK, StatusCode::CONFLICT] {
        let request = Request::post(format!("/api{at}/undo"))
            .header(header::HOST, crate::HOST)
            .header(header::CONTENT_TYPE, "application/json");
        let body = Body::from(format!("{{\"from\":{last}}}"));
        let answer = worktop.ask(request.body(body).unwrap()).await;
        assert_eq!(answer.status, wanted, "{}", answer.text);
        let stale = answer.text.contains("\"type\":\"/problems/changed-meanwhile\"");
        assert_eq!(stale, wanted == StatusCode::CONFLICT, "{}", answer.text);
    }
    assert_eq!(margin(&worktop, &opened), "0.7 mm");
}
