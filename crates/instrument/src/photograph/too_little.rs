use thiserror::Error;

/// Why a picture tells nothing.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum TooLittle {
    /// The camera is found from the limb.
    #[error(
        "the limb is marked at {0} of its degrees; five would do, spread round it, each where \
         its stroke meets the outer circle of the graduation"
    )]
    Limb(usize),
    /// On a back it is found from the zodiac scale.
    #[error(
        "the zodiac scale is marked at {0} of its degrees; five would do, spread round it, each \
         where its stroke meets the scale's outer circle"
    )]
    Zodiac(usize),
    /// So few marks that not even a known instrument is understood by them.
    #[error(
        "a setting is told by two strokes of the limb that are not opposite each other and the \
         hole, or by three strokes; {0} of these are marked"
    )]
    Setting(usize),
    /// All marks of the limb lie together.
    #[error("the marks of the limb lie on one line or in one place; five spread round it would do")]
    OneLine,
    /// Of a known instrument they do so with its hole.
    #[error(
        "the strokes of the limb that are marked lie on one line with the hole, or in one place; \
         one more that is not opposite another would do"
    )]
    SettingOnOneLine,
    /// The marks contradict each other.
    #[error(
        "the marks fit no instrument; is the right hemisphere said, and which way do the hours run?"
    )]
    NoFit,
}
