use figure::Method;
use instrument::Division;

/// The lines with which a plate divides the houses by a method: it has a name on either
/// road, and here the two are put beside each other.
#[must_use]
pub const fn division(method: Method) -> Division {
    match method {
        Method::Alcabitius => Division::Alcabitius,
        Method::Regiomontanus => Division::Regiomontanus,
        Method::Campanus => Division::Campanus,
        Method::Placidus => Division::Placidus,
        Method::Porphyry => Division::Porphyry,
        Method::Equal => Division::Equal,
        Method::WholeSign => Division::WholeSign,
        Method::EqualFromMidheaven => Division::EqualFromMidheaven,
        Method::Meridian => Division::Meridian,
        Method::EquatorFromAscendant => Division::EquatorFromAscendant,
        Method::Morinus => Division::Morinus,
        Method::Koch => Division::Koch,
        Method::Topocentric => Division::Topocentric,
    }
}
