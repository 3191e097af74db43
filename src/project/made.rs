//! Parts that exist already, worked out.

use super::raw::MadeText;
use super::resolve::Resolver;
use super::value::{Named, Written};
use crate::finding::Place;
use crate::model::made::{MadePart, Read, Readings};

/// Works a part that exists out.
pub fn made(name: &str, written: &MadeText, resolver: &mut Resolver) -> Option<MadePart> {
    let lengths =
        [&written.lengths, &written.far_lengths, &written.widths, &written.trimmed, &written.trimmed_straight];
    let [lengths, far_lengths, widths, trimmed, trimmed_straight] =
        lengths.map(|all| each(all.as_ref(), |one| resolver.length(one)));
    let [mitres, bevels] =
        [&written.mitres, &written.bevels].map(|all| each(all.as_ref(), |one| resolver.angle(one)));
    let thickness = resolver.optional_length(written.thickness.as_ref());
    let tolerance = resolver.optional_length(written.tolerance.as_ref());
    let read = Readings {
        lengths: lengths?,
        far_lengths: far_lengths?,
        short_at: written.short_at.clone(),
        widths: widths?,
        narrow_at: written.narrow_at.clone(),
        trimmed: trimmed?,
        trimmed_straight: trimmed_straight?,
        mitres: mitres?,
        bevels: bevels?,
        thickness: thickness?,
    };
    Some(MadePart {
        name: name.to_owned(),
        place: Place::pointer("/made").child(name),
        part: written.part.clone().unwrap_or_else(|| name.to_owned()),
        code: written.code.clone(),
        only: written.only.clone().unwrap_or_default(),
        read,
        worked: written.worked.unwrap_or(true),
        tolerance: tolerance?,
    })
}

/// Each of some readings, worked out; all are tried before the first bad one ends the work.
fn each<T>(
    written: Option<&Named<Written>>,
    mut work_out: impl FnMut(&Written) -> Option<T>,
) -> Option<Vec<Read<T>>> {
    let all = written.iter().flat_map(|named| &named.0);
    let read: Vec<Option<Read<T>>> = all.map(|(name, one)| Some((name.clone(), work_out(one)?))).collect();
    read.into_iter().collect()
}
