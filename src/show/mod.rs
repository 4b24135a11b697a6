//! Floor 8, show: what the turner sees: words, figures, pictures, sheets, the mesh of
//! the view in 3D, and files; and what a hand does on them.

pub mod archive;
pub mod camera;
pub mod change;
pub mod csv;
pub mod figures;
pub mod mesh;
pub mod pictures;
pub mod sheets;
pub mod thing;
pub mod words;
