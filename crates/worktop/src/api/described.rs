//! The OpenAPI 3.1 document of every operation.

use crate::api::operation::{Answer, Operation};
use crate::api::operations;
use crate::problem::{MEDIA_TYPE, Problem};
use app::files::FileSort;
use schemars::generate::{Contract, SchemaSettings};
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Map, Value, json};

/// The description of every operation, after OpenAPI 3.1.
pub fn document() -> Value {
    let generator = |contract: Contract| {
        let mut settings = SchemaSettings::draft2020_12();
        settings.definitions_path = "/components/schemas".into();
        settings.meta_schema = None;
        settings.contract = contract;
        settings.into_generator()
    };
    // What is read and what is written of one type may differ: a key with a default must be written
    // but need not be read. Each has its own names.
    let mut read = generator(Contract::Deserialize);
    let mut written = generator(Contract::Serialize);
    let problem = Problem::json_schema(&mut written);
    let mut paths: Map<String, Value> = Map::new();
    for operation in operations() {
        let described = describe(&operation, &mut read, &mut written);
        let path = paths.entry(format!("/api{}", operation.path)).or_insert_with(|| json!({}));
        path[operation.method.as_str().to_lowercase()] = described;
    }
    let mut schemas = written.take_definitions(true);
    for (name, schema) in read.take_definitions(true) {
        schemas.entry(name).or_insert(schema);
    }
    schemas.insert("Problem".to_owned(), problem.into());
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "stonelay",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "What the worktop's pages do, for programs on the same machine. Places are millimetres to the right and down from the top left corner of the blank's box; money stands in decimal digits as text.",
        },
        "servers": [{ "url": "/" }],
        "paths": paths,
        "components": {
            "schemas": schemas,
            "responses": {
                "Problem": {
                    "description": "It was not done, and why (RFC 9457).",
                    "content": { MEDIA_TYPE: { "schema": { "$ref": "#/components/schemas/Problem" } } },
                },
            },
        },
    })
}

fn describe(
    operation: &Operation,
    read: &mut SchemaGenerator,
    written: &mut SchemaGenerator,
) -> Value {
    let mut parameters: Vec<Value> = operation
        .path
        .split('/')
        .filter_map(|s| s.strip_prefix('{')?.strip_suffix('}'))
        .map(|name| {
            let schema = match name {
                "name" => json!({ "type": "string" }),
                "sort" => json!({ "enum": FileSort::ALL.map(FileSort::name), "example": "dxf" }),
                _ => json!({ "type": "integer", "format": "int64", "minimum": 1 }),
            };
            json!({ "name": name, "in": "path", "required": true, "schema": schema })
        })
        .collect();
    if let Some(question) = operation.question {
        parameters.extend(questions(&question(read).into(), read));
    }
    let mut described = json!({
        "operationId": operation.id,
        "summary": operation.summary,
        "parameters": parameters,
        "responses": { "200": answer(operation, written), "default": { "$ref": "#/components/responses/Problem" } },
    });
    if let Some((schema, example)) = &operation.body {
        described["requestBody"] = json!({
            "required": true,
            "content": { "application/json": { "schema": schema(read), "example": example } },
        });
    }
    described
}

fn answer(operation: &Operation, written: &mut SchemaGenerator) -> Value {
    let content: Map<String, Value> = match &operation.answer {
        Answer::Done => return json!({ "description": "Done." }),
        Answer::Json(schema) => {
            [("application/json".to_owned(), json!({ "schema": schema(written) }))]
                .into_iter()
                .collect()
        }
        Answer::File(types) => types.iter().map(|t| ((*t).to_owned(), json!({}))).collect(),
    };
    json!({ "description": "Done.", "content": content })
}

/// The properties of a question's type, each as a parameter.
fn questions(schema: &Value, read: &SchemaGenerator) -> Vec<Value> {
    let name = schema.get("$ref").and_then(Value::as_str).and_then(|r| r.rsplit('/').next());
    let schema = name.and_then(|n| read.definitions().get(n)).unwrap_or(schema);
    let required = |name: &str| {
        let list = schema.get("required").and_then(Value::as_array);
        list.is_some_and(|l| l.iter().any(|r| r == name))
    };
    let properties = schema.get("properties").and_then(Value::as_object);
    let parameter = |(name, schema): (&String, &Value)| json!({ "name": name, "in": "query", "required": required(name), "schema": schema });
    properties.into_iter().flatten().map(parameter).collect()
}
