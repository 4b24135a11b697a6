//! Plies glued crosswise, as one plate.
//!
//! A stack of plies moves by the rule of mixtures, α = Σ E·t·α / Σ E·t in each of the
//! two directions (design rule of laminates; stiffness ratios from the Wood Handbook,
//! FPL-GTR-190, 2010, Table 5-1). With the first and second moments of E·t about the
//! middle the same balance gives how far an unbalanced stack cups while nothing holds it. Poisson's ratios are
//! left out; `tests/base.rs` holds it beside the full theory of laminated plates.

/// One ply of a plate: along the first direction and along the second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Its thickness.
    pub thickness_mm: f64,
    /// Stiffness, in any one unit.
    pub stiffness: [f64; 2],
    /// How far it would grow alone, as a share.
    pub growth: [f64; 2],
}

/// How a plate moves.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Plate {
    /// Growth of its middle where nothing keeps it flat, as a share.
    pub growth: [f64; 2],
    /// Growth where it is held flat, as by the ring that it is glued into or under:
    /// α = Σ E·t·α / Σ E·t.
    pub held_growth: [f64; 2],
    /// Curvature, 1/mm, positive with the edges up.
    pub curvature_per_mm: [f64; 2],
}

/// How plies glued together move, from below; each direction by itself: the forces
/// and the moments of all plies are in balance.
pub fn plate(layers: &[Layer]) -> Plate {
    let total: f64 = layers.iter().map(|layer| layer.thickness_mm).sum();
    let mut plate = Plate::default();
    for direction in 0..2 {
        let mut bottom = -total / 2.0;
        // Σ E over thickness: plain, times height, times height squared; and the same of E·α.
        let (mut a, mut b, mut d, mut force, mut moment) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for layer in layers {
            let top = bottom + layer.thickness_mm;
            let stiffness = layer.stiffness[direction];
            let first = (top * top - bottom * bottom) / 2.0;
            a += stiffness * layer.thickness_mm;
            b += stiffness * first;
            d += stiffness * (top.powi(3) - bottom.powi(3)) / 3.0;
            force += stiffness * layer.growth[direction] * layer.thickness_mm;
            moment += stiffness * layer.growth[direction] * first;
            bottom = top;
        }
        if a > 0.0 {
            plate.held_growth[direction] = force / a;
        }
        let whole = a * d - b * b;
        if whole > 0.0 {
            plate.growth[direction] = (d * force - b * moment) / whole;
            // A ply that grows below the middle lifts the edges.
            plate.curvature_per_mm[direction] = (b * force - a * moment) / whole;
        }
    }
    plate
}
