//! One operation: its route, its words, its types, declared in one place.

use crate::state::State;
use axum::handler::Handler;
use axum::http::Method;
use axum::routing::{MethodFilter, MethodRouter, on};
use schemars::{JsonSchema, Schema, SchemaGenerator};

/// Makes the schema of a type.
pub(super) type Schemed = fn(&mut SchemaGenerator) -> Schema;

/// What an operation answers.
pub(super) enum Answer {
    /// That it is done.
    Done,
    /// JSON of a type.
    Json(Schemed),
    /// A file of one of these media types.
    File(Vec<&'static str>),
}

/// One operation.
pub(super) struct Operation {
    /// Its method.
    pub(super) method: Method,
    /// Its path below `/api`.
    pub(super) path: &'static str,
    /// Its name for programs.
    pub(super) id: &'static str,
    /// What it does, in a sentence.
    pub(super) summary: &'static str,
    /// The type of its question.
    pub(super) question: Option<Schemed>,
    /// The type of its body, and an example.
    pub(super) body: Option<(Schemed, serde_json::Value)>,
    /// What its answer is.
    pub(super) answer: Answer,
    /// Its route.
    pub(super) route: MethodRouter<State>,
}

fn schema_of<T: JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    generator.subschema_for::<T>()
}

impl Operation {
    fn new<H, P>(
        method: Method,
        path: &'static str,
        id: &'static str,
        summary: &'static str,
        handler: H,
    ) -> Operation
    where
        H: Handler<P, State>,
        P: 'static,
    {
        // Only the methods below are used, and each is a filter.
        let filter = MethodFilter::try_from(method.clone()).unwrap_or(MethodFilter::GET);
        let route = on(filter, handler);
        Operation {
            method,
            path,
            id,
            summary,
            question: None,
            body: None,
            answer: Answer::Done,
            route,
        }
    }

    /// Reads something.
    pub(super) fn get<H, P>(
        path: &'static str,
        id: &'static str,
        summary: &'static str,
        handler: H,
    ) -> Operation
    where
        H: Handler<P, State>,
        P: 'static,
    {
        Operation::new(Method::GET, path, id, summary, handler)
    }

    /// Does something.
    pub(super) fn post<H, P>(
        path: &'static str,
        id: &'static str,
        summary: &'static str,
        handler: H,
    ) -> Operation
    where
        H: Handler<P, State>,
        P: 'static,
    {
        Operation::new(Method::POST, path, id, summary, handler)
    }

    /// With a question of this type.
    pub(super) fn asks<T: JsonSchema>(self) -> Operation {
        Operation { question: Some(schema_of::<T>), ..self }
    }

    /// With a body of this type; `example` is one that works on the demo order.
    pub(super) fn takes<T: JsonSchema>(self, example: serde_json::Value) -> Operation {
        Operation { body: Some((schema_of::<T>, example)), ..self }
    }

    /// With an answer of this type.
    pub(super) fn gives<T: JsonSchema>(self) -> Operation {
        Operation { answer: Answer::Json(schema_of::<T>), ..self }
    }

    /// With a file for answer, of one of these media types.
    pub(super) fn gives_file(self, media_types: Vec<&'static str>) -> Operation {
        Operation { answer: Answer::File(media_types), ..self }
    }
}
