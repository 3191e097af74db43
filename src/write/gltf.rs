//! A model as glTF 2.0 in one binary file (GLB): metres, y up, one mesh a part, one node a copy.

use crate::geometry::{Mesh, Placement, Scene};
use serde_json::{Value as Json, json};

/// Millimetres in a metre.
const MM: f64 = 1000.0;

/// `glTF` and the two chunk types, as the standard spells them in little-endian words.
const MAGIC: u32 = 0x4654_6C67;
const JSON_CHUNK: u32 = 0x4E4F_534A;
const BINARY_CHUNK: u32 = 0x004E_4942;

/// Codes of the standard: 32-bit floats, 32-bit indices, and what the two kinds of data are for.
const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;

/// The model as the bytes of a GLB file.
///
/// Each part is one mesh in its own axes, so that coordinates stay small and keep their digits in single precision; its copies are
/// nodes named `part.copy`, copies counted from 0, with matrices; copies with other joints have a mesh of their own. A mirrored copy's matrix has a negative determinant.
pub fn gltf(scene: &Scene) -> Vec<u8> {
    let mut file = Parts::default();
    for part in scene.parts.iter().filter(|p| !p.mesh.triangles.is_empty()) {
        let mesh = file.mesh(&part.name, &part.mesh);
        for (copy, place) in &part.places {
            file.nodes.push(json!({
                "name": format!("{}.{copy}", part.name),
                "mesh": mesh,
                "matrix": matrix(place),
            }));
        }
    }
    file.bytes(&scene.title)
}

/// A placement as the standard's matrix: column by column, metres, y up (x, z, -y of the world).
fn matrix(place: &Placement) -> Vec<f32> {
    let (u, v, w, o) = (place.u(), place.v(), place.w(), place.origin());
    let turned = |x: f64, y: f64, z: f64, last: f64| [x as f32, z as f32, -y as f32, last as f32];
    let columns = [
        turned(u.x, u.y, u.z, 0.0),
        turned(v.x, v.y, v.z, 0.0),
        turned(w.x, w.y, w.z, 0.0),
        turned(o.x / MM, o.y / MM, o.z / MM, 1.0),
    ];
    columns.concat()
}

/// The lists of a glTF file being made.
#[derive(Default)]
struct Parts {
    nodes: Vec<Json>,
    meshes: Vec<Json>,
    accessors: Vec<Json>,
    views: Vec<Json>,
    binary: Vec<u8>,
}

impl Parts {
    /// Takes up a mesh; its index.
    fn mesh(&mut self, name: &str, mesh: &Mesh) -> usize {
        let points: Vec<[f32; 3]> =
            mesh.vertices.iter().map(|p| [(p.x / MM) as f32, (p.y / MM) as f32, (p.z / MM) as f32]).collect();
        let bound = |pick: fn(f32, f32) -> f32, from: f32| {
            points.iter().fold([from; 3], |b, p| [pick(b[0], p[0]), pick(b[1], p[1]), pick(b[2], p[2])])
        };
        let (min, max) = (bound(f32::min, f32::MAX), bound(f32::max, f32::MIN));
        let data: Vec<u8> = points.iter().flatten().flat_map(|c| c.to_le_bytes()).collect();
        let view = self.view(&data, ARRAY_BUFFER);
        self.accessors.push(json!({
            "bufferView": view, "componentType": FLOAT, "count": points.len(), "type": "VEC3", "min": min, "max": max,
        }));
        let data: Vec<u8> = mesh.triangles.iter().flatten().flat_map(|i| i.to_le_bytes()).collect();
        let view = self.view(&data, ELEMENT_ARRAY_BUFFER);
        self.accessors.push(json!({
            "bufferView": view, "componentType": UNSIGNED_INT, "count": 3 * mesh.triangles.len(), "type": "SCALAR",
        }));
        let first = self.accessors.len() - 2;
        let primitive = json!({ "attributes": { "POSITION": first }, "indices": first + 1, "mode": 4 });
        self.meshes.push(json!({ "name": name, "primitives": [primitive] }));
        self.meshes.len() - 1
    }

    /// Adds a stretch of data; its index. Four-byte numbers keep every stretch aligned.
    fn view(&mut self, data: &[u8], target: u32) -> usize {
        let offset = self.binary.len();
        self.binary.extend_from_slice(data);
        self.views.push(json!({ "buffer": 0, "byteOffset": offset, "byteLength": data.len(), "target": target }));
        self.views.len() - 1
    }

    /// The finished file. Lists that would be empty are left out, as the standard asks.
    fn bytes(self, title: &str) -> Vec<u8> {
        let mut root = json!({
            "asset": { "version": "2.0", "generator": "fullsize" },
            "scene": 0,
            "scenes": [{ "name": title }],
        });
        if !self.nodes.is_empty() {
            root["scenes"][0]["nodes"] = (0..self.nodes.len()).collect();
            root["nodes"] = self.nodes.into();
            root["meshes"] = self.meshes.into();
            root["accessors"] = self.accessors.into();
            root["bufferViews"] = self.views.into();
            root["buffers"] = json!([{ "byteLength": self.binary.len() }]);
        }
        let mut text = root.to_string().into_bytes();
        text.resize(text.len().next_multiple_of(4), b' ');
        let mut chunks = vec![(JSON_CHUNK, text)];
        if !self.binary.is_empty() {
            chunks.push((BINARY_CHUNK, self.binary));
        }
        let length = 12 + chunks.iter().map(|(_, data)| 8 + data.len()).sum::<usize>();
        let mut file = Vec::with_capacity(length);
        for word in [MAGIC, 2, length as u32] {
            file.extend(word.to_le_bytes());
        }
        for (kind, data) in chunks {
            file.extend((data.len() as u32).to_le_bytes());
            file.extend(kind.to_le_bytes());
            file.extend(data);
        }
        file
    }
}
