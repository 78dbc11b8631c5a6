//! What the page believes that the desk answers: TypeScript made of the desk's schemas.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use serde_json::{Map, Value};

/// The page's types are those of the answers: written anew like the schemas themselves.
#[test]
fn those_of_the_page_are_those_of_the_answers() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/page/js/answers.d.ts");
    let text = types();
    if std::env::var_os("ALMURI_WRITE_SCHEMA").is_some() {
        std::fs::write(path, &text).unwrap();
    }
    assert!(
        text == std::fs::read_to_string(path).unwrap_or_default(),
        "the answers' types and page/js/answers.d.ts differ; ALMURI_WRITE_SCHEMA=1 cargo test -p workbench --test page_types writes it anew"
    );
}

/// An interface for every object that an answer may hold.
fn types() -> String {
    let mut all = BTreeMap::new();
    for (name, schema) in desk::schemas() {
        let Value::Object(mut schema) = schema.to_value() else {
            panic!("{name} is no object")
        };
        if let Some(Value::Object(parts)) = schema.remove("$defs") {
            all.extend(parts);
        }
        let title = schema["title"].as_str().unwrap().to_owned();
        // A list is of a type that is there by itself.
        if schema["type"] == "object" {
            all.insert(title, Value::Object(schema));
        }
    }
    let mut text =
        "// What the desk answers, made of its schemas; not written by hand.\n".to_owned();
    for (name, schema) in &all {
        text.push_str(&match schema.get("properties") {
            Some(Value::Object(properties)) => format!(
                "\nexport interface {name} {{\n{}}}\n",
                members(properties, schema)
            ),
            _ => format!("\nexport type {name} = {};\n", of(schema)),
        });
    }
    text
}

fn members(properties: &Map<String, Value>, schema: &Value) -> String {
    let required = |name: &str| {
        let all = schema.get("required").and_then(Value::as_array);
        all.is_some_and(|all| all.iter().any(|one| one == name))
    };
    let member = |(name, schema): (&String, &Value)| {
        let kind = of(schema);
        if required(name) {
            return format!("  {name}: {kind};\n");
        }
        // What may be left out is left out where it is none.
        format!("  {name}?: {};\n", kind.trim_end_matches(" | null"))
    };
    properties.iter().map(member).collect()
}

/// The type that a schema allows.
fn of(schema: &Value) -> String {
    if let Some(reference) = schema.get("$ref") {
        let name = reference.as_str().unwrap().rsplit('/').next();
        return name.unwrap().to_owned();
    }
    let any = schema.get("anyOf").or_else(|| schema.get("oneOf"));
    if let Some(any) = any {
        let all: Vec<String> = any.as_array().unwrap().iter().map(of).collect();
        return all.join(" | ");
    }
    if let Some(constant) = schema.get("const") {
        return constant.to_string();
    }
    if let Some(words) = schema.get("enum") {
        let all: Vec<String> = words
            .as_array()
            .unwrap()
            .iter()
            .map(Value::to_string)
            .collect();
        return all.join(" | ");
    }
    let kinds = match &schema["type"] {
        Value::Array(kinds) => kinds.clone(),
        kind => vec![kind.clone()],
    };
    let all: Vec<String> = kinds
        .iter()
        .map(|kind| match kind.as_str().unwrap() {
            "integer" => "number".to_owned(),
            "array" => format!("{}[]", in_brackets(&of(&schema["items"]))),
            "object" => match (schema.get("properties"), schema.get("additionalProperties")) {
                (Some(Value::Object(properties)), _) => {
                    format!("{{\n{}}}", members(properties, schema))
                }
                (_, Some(values)) => format!("Record<string, {}>", of(values)),
                _ => panic!("an object of nothing: {schema}"),
            },
            kind @ ("number" | "string" | "boolean" | "null") => kind.to_owned(),
            other => panic!("{other} in {schema}"),
        })
        .collect();
    all.join(" | ")
}

fn in_brackets(kind: &str) -> String {
    if kind.contains(" | ") {
        format!("({kind})")
    } else {
        kind.to_owned()
    }
}
