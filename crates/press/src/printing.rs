//! What is printed as a PDF of its own: a card, a handout, a year's book.

use patience::Patience;

use crate::card::{Card, CardPaper};
use crate::error::PressError;
use crate::handout::Handout;
use crate::order::PageSize;
use crate::year_book::{BookPaper, YearBook};
#[cfg(feature = "documents")]
use crate::{flow, leaf, pdf, year_leaves};

/// The card of a town as a PDF of one page. The same card always gives the same bytes.
///
/// # Errors
/// When this build has no documents, or it could not be put together.
pub fn card(card: &Card, paper: CardPaper) -> Result<Vec<u8>, PressError> {
    card_document(&format!("{}, {}", card.town, card.year), card, paper)
}

#[cfg(feature = "documents")]
fn card_document(title: &str, card: &Card, paper: CardPaper) -> Result<Vec<u8>, PressError> {
    let leaf = leaf::Leaf::of(card, paper);
    pdf::leaves(title, paper.size_mm(), &[leaf])
}

#[cfg(not(feature = "documents"))]
fn card_document(_: &str, _: &Card, _: CardPaper) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt("PDF"))
}

/// A handout as a PDF. The same handout on the same paper always gives the same bytes.
///
/// # Errors
/// When this build has no documents, it could not be put together, or nobody waits for it
/// any longer.
pub fn handout(
    handout: &Handout,
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    let all = std::slice::from_ref(handout);
    handouts_document(&handout.title, all, size, patience)
}

/// Handouts one after the other in one PDF, each with its own foot and numbers of pages.
///
/// # Errors
/// As [`handout`].
pub fn handouts_in_one(
    title: &str,
    handouts: &[Handout],
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    handouts_document(title, handouts, size, patience)
}

#[cfg(feature = "documents")]
fn handouts_document(
    title: &str,
    handouts: &[Handout],
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    let pages = handouts.iter().flat_map(|one| flow::pages(one, size));
    pdf::flow(title, size, &pages.collect::<Vec<_>>(), patience)
}

#[cfg(not(feature = "documents"))]
fn handouts_document(
    _: &str,
    _: &[Handout],
    _: PageSize,
    _: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt("PDF"))
}

/// The book as a PDF. The same book on the same paper always gives the same bytes.
///
/// # Errors
/// When this build has no documents, or it could not be put together.
pub fn year_book(book: &YearBook, paper: BookPaper) -> Result<Vec<u8>, PressError> {
    year_book_document(book, paper)
}

#[cfg(feature = "documents")]
fn year_book_document(book: &YearBook, paper: BookPaper) -> Result<Vec<u8>, PressError> {
    let (size, leaves) = year_leaves::leaves(book, paper);
    pdf::leaves(&format!("{}, {}", book.year, book.town), size, &leaves)
}

#[cfg(not(feature = "documents"))]
fn year_book_document(_: &YearBook, _: BookPaper) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt("PDF"))
}
