use crate::refusal::{Field, Refusal, quoted};

/// The choice of a name; the usual one without.
pub(crate) fn chosen<T: Copy>(
    rule: &str,
    given: &Option<String>,
    all: &[T],
    name: impl Fn(T) -> &'static str,
    usual: T,
) -> Result<T, Refusal> {
    let Some(given) = given else {
        return Ok(usual);
    };
    let wanted = given.trim().to_lowercase();
    let found = all.iter().copied().find(|one| name(*one) == wanted);
    found.ok_or_else(|| {
        let names: Vec<String> = all.iter().map(|one| name(*one).to_owned()).collect();
        Refusal {
            value: None,
            message: format!(
                "{} is not known for {rule}; {} would do",
                quoted(given),
                names.join(", ")
            ),
            choices: names,
            field: Field::Rule,
        }
    })
}
