use figure::Method;
use schemars::JsonSchema;
use serde::Serialize;

/// A house method.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct HouseMethod {
    /// Its full name.
    pub name: &'static str,
    /// How an astrolabe shows it; null for those that are made for calculation.
    pub on_the_brass: Option<&'static str>,
}

/// The house methods, those first that an astrolabe can show.
#[must_use]
pub fn methods() -> Vec<HouseMethod> {
    let all = Method::ALL.into_iter().map(|method| HouseMethod {
        name: method.name(),
        on_the_brass: on_the_brass(method),
    });
    let (shown, calculated): (Vec<_>, Vec<_>) = all.partition(|one| one.on_the_brass.is_some());
    [shown, calculated].concat()
}

/// How its cusps are read, by the procedure's name where one gives them.
fn on_the_brass(method: Method) -> Option<&'static str> {
    match method {
        Method::Alcabitius => Some("by turning, or by limb thirds"),
        Method::Placidus => Some("by the direct cut"),
        Method::Regiomontanus | Method::Campanus => Some("by house lines"),
        Method::Porphyry => Some("thirds of each quadrant, on the ecliptic"),
        Method::Equal => Some("30° by 30° from the ascendant, on the ecliptic"),
        Method::WholeSign => Some("the signs themselves, on the ecliptic"),
        Method::EqualFromMidheaven
        | Method::Meridian
        | Method::EquatorFromAscendant
        | Method::Morinus
        | Method::Koch
        | Method::Topocentric => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_method_is_there_and_the_brass_s_come_first() {
        let all = methods();
        assert_eq!(all.len(), Method::ALL.len());
        assert_eq!(all[0].name, "alcabitius");
        assert!(all.is_sorted_by_key(|one| one.on_the_brass.is_none()));
        assert_eq!(
            all.iter().filter(|one| one.on_the_brass.is_some()).count(),
            7
        );
    }
}
