//! What marks that stand together are, for who reads by ear: headings, paragraphs, figures,
//! rows of tables.

/// What a part of a drawing is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// The title of the whole; said once, on the first page that has it.
    Title,
    /// The title of a sheet; said once for pages one after another.
    Sheet,
    /// A heading within a sheet.
    Heading,
    /// Words in one or more lines.
    Paragraph,
    /// A paragraph at the foot: said after all else on the page.
    Foot,
    /// A picture, and what it shows.
    Figure(String),
    /// A row of a table; rows one after another are one table.
    Row {
        /// Whether its cells are heads of columns.
        is_head: bool,
    },
    /// A cell of a row.
    Cell,
    /// What only serves the page: its number, the day, the bars to check the scale by.
    Running,
}

/// Marks that stand together, by their places among all marks of the drawing. Parts lie
/// within each other or apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// The first mark.
    pub from: usize,
    /// Behind the last mark.
    pub to: usize,
    /// What they are.
    pub role: Role,
}
