//! Whether a value keeps to a JSON Schema, as far as the desk's schemas go.

use serde_json::Value;

/// The schema of an answer, as it is committed.
pub(crate) fn committed(name: &str) -> Value {
    let folder = env!("CARGO_MANIFEST_DIR");
    let text = std::fs::read_to_string(format!("{folder}/schema/{name}.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// Panics where a value is not what the schema says, or lacks what it requires.
#[track_caller]
pub(crate) fn keeps_to(value: &Value, schema: &Value) {
    if let Err(why) = at("answer", value, schema, schema) {
        panic!("{why}");
    }
}

fn at(path: &str, value: &Value, schema: &Value, root: &Value) -> Result<(), String> {
    if let Some(Value::String(reference)) = schema.get("$ref") {
        let target = root.pointer(reference.trim_start_matches('#')).unwrap();
        return at(path, value, target, root);
    }
    let any = schema.get("anyOf").or(schema.get("oneOf"));
    if let Some(Value::Array(any)) = any {
        return any
            .iter()
            .map(|one| at(path, value, one, root))
            .find(Result::is_ok)
            .unwrap_or_else(|| Err(format!("{path}: {value} fits no alternative")));
    }
    if let Some(constant) = schema.get("const") {
        return (value == constant)
            .then_some(())
            .ok_or_else(|| format!("{path}: {value} is not {constant}"));
    }
    if let Some(Value::Array(words)) = schema.get("enum")
        && !words.contains(value)
    {
        return Err(format!("{path}: {value} is none of {words:?}"));
    }
    let kinds: Vec<&str> = match schema.get("type") {
        Some(Value::String(kind)) => vec![kind],
        Some(Value::Array(kinds)) => kinds.iter().filter_map(Value::as_str).collect(),
        _ => return Ok(()),
    };
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(n) if (n.is_u64() || n.is_i64()) && kinds.contains(&"integer") => "integer",
        Value::Number(_) => "number",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    if !kinds.contains(&kind) {
        return Err(format!("{path} is {kind}, not {kinds:?}"));
    }
    if let (Value::Object(fields), Some(Value::Array(required))) = (value, schema.get("required")) {
        for key in required.iter().filter_map(Value::as_str) {
            if !fields.contains_key(key) {
                return Err(format!("{path} has no {key}"));
            }
        }
    }
    if let Value::Object(fields) = value {
        let properties = schema.get("properties");
        let others = schema.get("additionalProperties");
        for (key, inner) in fields {
            let of = properties.and_then(|known| known.get(key)).or(others);
            match of {
                Some(of) => at(&format!("{path}.{key}"), inner, of, root)?,
                None => return Err(format!("{path}.{key} is in no schema")),
            }
        }
    }
    if let (Value::Array(items), Some(of)) = (value, schema.get("items")) {
        for item in items {
            at(&format!("{path}[]"), item, of, root)?;
        }
    }
    Ok(())
}
