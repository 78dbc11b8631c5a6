use sky::Plain;

/// Of what kind a field of a specification is, and what it accepts.
#[derive(Clone, Debug, PartialEq)]
pub enum FieldKind {
    /// A text of so many characters.
    Text {
        /// At least.
        least: usize,
        /// At most.
        most: usize,
    },
    /// A number, in the unit that the field's name ends with.
    Number {
        /// At least.
        least: f64,
        /// At most.
        most: f64,
    },
    /// One of some numbers.
    OneOf(Vec<f64>),
    /// A whole number from 0.
    Count {
        /// At most.
        most: u8,
    },
    /// Yes or no.
    Truth,
    /// One of some names.
    Choice(Vec<&'static str>),
    /// Several of some names, none twice.
    Several {
        /// The names.
        names: Vec<&'static str>,
        /// So many at most.
        most: usize,
    },
    /// A list of latitudes in degrees, south negative.
    Latitudes {
        /// So many at least.
        least: usize,
        /// So many at most.
        most: usize,
    },
    /// Stars by their names or designations; at least one, where the field is there.
    Stars {
        /// So many at most.
        most: usize,
    },
    /// Lines of text; at least one, where the field is there.
    Lines {
        /// So many at most.
        most: usize,
        /// Characters of a line, at most.
        longest: usize,
    },
    /// Places, each with its name, latitude and longitude in degrees.
    Places {
        /// So many at most.
        most: usize,
    },
}

/// What a field holds.
#[derive(Clone, Debug, PartialEq)]
pub enum FieldValue {
    /// Yes or no.
    Truth(bool),
    /// A number.
    Number(f64),
    /// A text, or a name.
    Text(String),
    /// Several.
    List(Vec<FieldValue>),
}

impl FieldValue {
    /// A list of texts.
    #[must_use]
    pub fn texts(all: &[String]) -> FieldValue {
        FieldValue::List(all.iter().cloned().map(FieldValue::Text).collect())
    }

    /// As TOML writes it.
    #[must_use]
    pub fn toml(&self) -> String {
        match self {
            FieldValue::Truth(truth) => truth.to_string(),
            FieldValue::Number(number) => Plain(*number).to_string(),
            FieldValue::Text(text) => toml::Value::String(text.clone()).to_string(),
            FieldValue::List(all) => {
                let all: Vec<String> = all.iter().map(FieldValue::toml).collect();
                format!("[{}]", all.join(", "))
            }
        }
    }
}

impl From<&toml::Value> for FieldValue {
    /// What a specification has no use for is told as it is written.
    fn from(value: &toml::Value) -> FieldValue {
        match value {
            toml::Value::Boolean(truth) => FieldValue::Truth(*truth),
            toml::Value::String(text) => FieldValue::Text(text.clone()),
            #[expect(
                clippy::cast_precision_loss,
                reason = "every accepted range is far below 2⁵³"
            )]
            toml::Value::Integer(number) => FieldValue::Number(*number as f64),
            toml::Value::Float(number) => FieldValue::Number(*number),
            toml::Value::Array(all) => FieldValue::List(all.iter().map(FieldValue::from).collect()),
            toml::Value::Datetime(_) | toml::Value::Table(_) => FieldValue::Text(value.to_string()),
        }
    }
}
