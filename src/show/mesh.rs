//! A vessel as a body of triangles, for the turning view: the turned wall or the
//! glued blank, whole or with a quarter cut out.
//!
//! Every ring is a closed body of its own with its faces outward, so that its volume
//! can be checked (`tests/mesh.rs`). Corners are doubled where the wood changes: no
//! color runs over a joint. Round surfaces are broken into enough flats to keep the
//! volume within 0.1 %; what is flat in the shop is exact here.
//!
//! The axes are the turner's: z up from the foot, x to the right and y away, seen by
//! someone who stands in front. Directions round the axis count from the front to the
//! right, so that the rings unroll from left to right as they are seen from outside.

mod body;
mod glued;
pub mod inlaid;
mod striped;
mod touched;
mod turned;

use crate::plan::stack::StackPlan;
pub use body::{Bounds, Mesh};
use body::{FINE, Fineness};
use glued::{base_in, glued};
pub use touched::touched;
use turned::{Profile, turned};

/// What is shown of a vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The turned wall; else the blank as it is glued.
    pub finished: bool,
    /// Whether the quarter in front is cut out.
    pub cut_open: bool,
}

/// A vessel's mesh. Empty where its points make no curve.
pub fn mesh(plan: &StackPlan, look: Look) -> Mesh {
    made(plan, look, FINE)
}

/// The turned wall with as few flats as a picture of a hand's width needs, so many round a
/// full circle, and nowhere more than a 120th of its size off.
pub fn mesh_for_picture(plan: &StackPlan, round_steps: f64) -> Mesh {
    let reach = plan
        .rings
        .iter()
        .map(|ring| ring.reach_mm)
        .fold(1.0, f64::max);
    let look = Look {
        finished: true,
        cut_open: false,
    };
    let coarse = Fineness {
        flatness_mm: reach / 120.0,
        loss: f64::MAX,
        round_steps,
    };
    made(plan, look, coarse)
}

fn made(plan: &StackPlan, look: Look, fineness: Fineness) -> Mesh {
    let vessel = &plan.vessel;
    let mut mesh = Mesh::default();
    let Some(wall) = &plan.wall else {
        return mesh;
    };
    let profile = look.finished.then(|| Profile::of(wall, plan, fineness));
    for (place, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
        let start = mesh.triangles.len();
        if let Some(profile) = &profile {
            turned(&mut mesh, ring, planned, profile, look.cut_open);
        } else {
            let base = base_in(plan, place);
            glued(&mut mesh, ring, planned, base, look.cut_open);
        }
        mesh.rings.push(start..mesh.triangles.len());
    }
    mesh
}
