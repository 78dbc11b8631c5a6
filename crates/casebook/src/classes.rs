//! Classes and their papers in the casebook, under the same rules as cases: they are rows
//! of the same table, with versions, checksums, what can be undone, and deletion for good.

use crate::book::keep_cases;
use crate::class_rows::{class_in, fit, insert_class, insert_papers, paper_in, papers_in};
use crate::date::{date, now_unix_s};
use crate::{
    Case, CaseId, Casebook, CasebookError, Class, ClassId, ClassOut, Deleted, KeptClass, KeptPaper,
    Paper, PaperId, class_rows, stored,
};

impl Casebook {
    /// Every class, in the order in which they were kept.
    ///
    /// # Errors
    /// When the file or one of them cannot be read.
    pub fn classes(&self) -> Result<Vec<KeptClass>, CasebookError> {
        class_rows::all(self.connection())
    }

    /// A class by its number.
    ///
    /// # Errors
    /// When there is none.
    pub fn class(&self, id: ClassId) -> Result<KeptClass, CasebookError> {
        class_in(self.connection(), id)
    }

    /// The papers of a class, in the order in which they were given out.
    ///
    /// # Errors
    /// When there is no such class, or one cannot be read.
    pub fn papers(&self, id: ClassId) -> Result<Vec<KeptPaper>, CasebookError> {
        class_in(self.connection(), id)?;
        papers_in(self.connection(), id)
    }

    /// A paper by its number.
    ///
    /// # Errors
    /// When there is none.
    pub fn paper(&self, id: PaperId) -> Result<KeptPaper, CasebookError> {
        paper_in(self.connection(), id)
    }

    /// Keeps a class.
    ///
    /// # Errors
    /// When it lacks a name, a place or pupils, or cannot be written.
    pub fn keep_class(&mut self, class: &Class) -> Result<KeptClass, CasebookError> {
        let now = now_unix_s();
        self.change(|transaction| {
            let id = insert_class(transaction, class, &[], now)?;
            class_in(transaction, id)
        })
    }

    /// Keeps what was carried in, all of it or nothing, and tells how many cases and classes
    /// these are.
    ///
    /// # Errors
    /// When something of it cannot be kept, or be written.
    pub fn keep_imported(
        &mut self,
        cases: Vec<Case>,
        classes: &[ClassOut],
    ) -> Result<usize, CasebookError> {
        let now = now_unix_s();
        let kept = cases.len() + classes.len();
        self.change(|transaction| {
            keep_cases(transaction, cases, now)?;
            for ClassOut { class, papers } in classes {
                insert_class(transaction, class, papers, now)?;
            }
            Ok(kept)
        })
    }

    /// Puts a class in the place of what is kept, as long as that is still the version the
    /// edit began from. Its papers stay as they are.
    ///
    /// # Errors
    /// When there is no such class, it was changed meanwhile, or the new one cannot be kept.
    pub fn edit_class(
        &mut self,
        id: ClassId,
        version: i64,
        class: &Class,
    ) -> Result<KeptClass, CasebookError> {
        fit(class)?;
        let now = now_unix_s();
        self.change(|transaction| {
            let before = class_in(transaction, id)?;
            if before.version != version {
                return Err(CasebookError::ClassChanged(id));
            }
            let documents = (&before.class, class);
            stored::replace_row(transaction, CaseId(id.0), documents, now, None)?;
            class_in(transaction, id)
        })
    }

    /// Keeps what is given out together, under the class's next number and today's date, and
    /// tells the number; undone as one.
    ///
    /// # Errors
    /// When there is no such class, it has as much as one can hold, or a paper cannot be kept.
    pub fn give_out(&mut self, id: ClassId, papers: Vec<Paper>) -> Result<u32, CasebookError> {
        let now = now_unix_s();
        self.change(|transaction| {
            class_in(transaction, id)?;
            let there = papers_in(transaction, id)?;
            let last = there.iter().map(|kept| kept.paper.sheet).max();
            let sheet = last.unwrap_or(0) + 1;
            let given = date(now);
            let papers: Vec<Paper> = papers
                .into_iter()
                .map(|paper| Paper {
                    sheet,
                    given: given.clone(),
                    ..paper
                })
                .collect();
            insert_papers(transaction, id, &papers, now, None)?;
            class_rows::is_not_full(transaction, id)?;
            Ok(sheet)
        })
    }

    /// Puts a paper in the place of what is kept, as long as that is still the version the
    /// edit began from.
    ///
    /// # Errors
    /// When there is no such paper, it was changed meanwhile, or cannot be kept.
    pub fn edit_paper(
        &mut self,
        id: PaperId,
        version: i64,
        paper: &Paper,
    ) -> Result<KeptPaper, CasebookError> {
        let now = now_unix_s();
        self.change(|transaction| {
            class_rows::edit_papers(transaction, &[(id, version, paper)], now)?;
            paper_in(transaction, id)
        })
    }

    /// Puts papers in the place of what is kept, as [`Casebook::edit_paper`] does with one: all
    /// of them, or none. They are undone together.
    ///
    /// # Errors
    /// When one of them is refused.
    pub fn edit_papers<'a>(
        &mut self,
        edits: impl IntoIterator<Item = (PaperId, i64, &'a Paper)>,
    ) -> Result<Vec<KeptPaper>, CasebookError> {
        let edits: Vec<_> = edits.into_iter().collect();
        if edits.is_empty() {
            return Ok(Vec::new());
        }
        let now = now_unix_s();
        self.change(|transaction| class_rows::edit_papers(transaction, &edits, now))
    }

    /// Deletes a class and all its papers for good, as a case is, as long as it is still
    /// the version that was looked at.
    ///
    /// # Errors
    /// When there is no such class, it was changed meanwhile, or nothing may be written.
    pub fn delete_class(&mut self, id: ClassId, version: i64) -> Result<Deleted, CasebookError> {
        self.delete_rows(|transaction| {
            if class_in(transaction, id)?.version != version {
                return Err(CasebookError::ClassChanged(id));
            }
            let papers = papers_in(transaction, id)?;
            let rows = papers.into_iter().map(|paper| CaseId(paper.id.0));
            Ok(rows.chain([CaseId(id.0)]).collect())
        })
    }

    /// Deletes for good what a pupil was given and answered; the class stays as it is.
    ///
    /// # Errors
    /// When there is no such class, it has no papers of theirs, or nothing may be written.
    pub fn delete_papers_of(&mut self, id: ClassId, pupil: &str) -> Result<Deleted, CasebookError> {
        self.delete_rows(|transaction| {
            class_in(transaction, id)?;
            let papers = papers_in(transaction, id)?.into_iter();
            let theirs = papers.filter(|kept| kept.paper.pupil == pupil);
            let rows: Vec<CaseId> = theirs.map(|kept| CaseId(kept.id.0)).collect();
            if rows.is_empty() {
                return Err(CasebookError::NoPapersOf(pupil.to_owned()));
            }
            Ok(rows)
        })
    }

    /// Every class with its papers, one at a time.
    ///
    /// # Errors
    /// When the file cannot be read, or when the receiver fails.
    pub fn each_class<E: From<CasebookError>>(
        &self,
        mut receive: impl FnMut(ClassOut) -> Result<(), E>,
    ) -> Result<(), E> {
        for kept in self.classes()? {
            let papers = papers_in(self.connection(), kept.id)?;
            receive(ClassOut {
                class: kept.class,
                papers: papers.into_iter().map(|kept| kept.paper).collect(),
            })?;
        }
        Ok(())
    }
}
