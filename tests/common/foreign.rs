//! Closed surfaces given to a solid library that this project did not write.

use boolmesh::prelude::{Manifold, OpType, compute_boolean};
use fullsize::geometry::{Mesh, Vec3};

/// A closed surface, moved, as that library holds it.
pub fn foreign(mesh: &Mesh, by: Vec3) -> Manifold<f64> {
    let corners: Vec<f64> = mesh.vertices.iter().map(|p| *p + by).flat_map(|p| [p.x, p.y, p.z]).collect();
    let triangles: Vec<usize> = mesh.triangles.iter().flatten().map(|i| *i as usize).collect();
    Manifold::new(&corners, &triangles).expect("it is closed")
}

/// The volume of one closed surface, moved, that lies outside another, mm³.
pub fn outside(one: &Mesh, by: Vec3, other: &Mesh) -> f64 {
    volume_of(OpType::Subtract, (one, by), other)
}

/// The volume that two closed surfaces share, the first moved, mm³.
pub fn shared(one: &Mesh, by: Vec3, other: &Mesh) -> f64 {
    volume_of(OpType::Intersect, (one, by), other)
}

fn volume_of(what: OpType, (one, by): (&Mesh, Vec3), other: &Mesh) -> f64 {
    let left = match compute_boolean(&foreign(one, by), &foreign(other, Vec3::default()), what) {
        Ok(left) => left,
        // So the library says that nothing is left.
        Err(why) if why.contains("empty") => return 0.0,
        Err(why) => panic!("{why}"),
    };
    let corner = |k: usize| left.ps[left.hs[k].tail];
    let six = (0..left.hs.len() / 3).map(|k| {
        let [a, b, c] = [3 * k, 3 * k + 1, 3 * k + 2].map(corner);
        a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) + a.z * (b.x * c.y - b.y * c.x)
    });
    six.sum::<f64>() / 6.0
}
