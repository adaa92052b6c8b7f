//! The functions of the wasm, each beside the one most like it: what compresses looks back, and
//! not far.

use std::collections::HashSet;
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode};
use wasm_encoder::{CodeSection, FunctionSection, Module};
use wasmparser::{CodeSectionReader, FunctionSectionReader, Parser, Payload, TypeRef};

/// So many bytes in a row make two functions alike.
const RUN: usize = 3;

/// The same module in an order that compresses better.
pub(super) fn like_beside_like(wasm: &[u8]) -> Result<Vec<u8>, String> {
    let (mut imports, mut bodies) = (0, Vec::new());
    for payload in Parser::new(0).parse_all(wasm) {
        match payload.map_err(|error| error.to_string())? {
            Payload::ImportSection(section) => {
                imports += section
                    .into_imports()
                    .flatten()
                    .filter(|import| matches!(import.ty, TypeRef::Func(_)))
                    .count();
            }
            Payload::CodeSectionEntry(body) => bodies.push(&wasm[body.range()]),
            _ => {}
        }
    }
    let order = order(&bodies);
    let mut names: Vec<usize> = (0..imports + order.len()).collect();
    for (new, old) in order.iter().enumerate() {
        names[imports + old] = imports + new;
    }
    let mut module = Module::new();
    Ordered { names, order }
        .parse_core_module(&mut module, Parser::new(0), wasm)
        .map_err(|error| error.to_string())?;
    Ok(module.finish())
}

/// From the smallest on, always the one that has the largest share of its bytes in common.
fn order(bodies: &[&[u8]]) -> Vec<usize> {
    let runs: Vec<HashSet<&[u8]>> = bodies.iter().map(|b| b.windows(RUN).collect()).collect();
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    left.sort_by_key(|index| (bodies[*index].len(), *index));
    let mut order: Vec<usize> = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let likeness = |index: usize| {
            let (one, other) = (&runs[*order.last()?], &runs[index]);
            let both = one.intersection(other).count();
            Some(both as f64 / (one.len() + other.len() - both).max(1) as f64)
        };
        let mut best = (0, f64::NEG_INFINITY);
        for (place, index) in left.iter().enumerate() {
            let likeness = likeness(*index).unwrap_or_default();
            if likeness > best.1 {
                best = (place, likeness);
            }
        }
        order.push(left.remove(best.0));
    }
    order
}

struct Ordered {
    /// New numbers of the functions, imported ones first.
    names: Vec<usize>,
    /// The old places of those that are not imported.
    order: Vec<usize>,
}

impl Reencode for Ordered {
    type Error = Infallible;

    fn function_index(&mut self, old: u32) -> Result<u32, Error<Infallible>> {
        let new = self.names.get(old as usize);
        Ok(new.and_then(|new| u32::try_from(*new).ok()).unwrap_or(old))
    }

    fn parse_function_section(
        &mut self,
        functions: &mut FunctionSection,
        section: FunctionSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let kinds = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for old in self.order.clone() {
            functions.function(self.type_index(kinds[old])?);
        }
        Ok(())
    }

    fn parse_code_section(
        &mut self,
        code: &mut CodeSection,
        section: CodeSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let bodies = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for old in self.order.clone() {
            self.parse_function_body(code, bodies[old].clone())?;
        }
        Ok(())
    }
}
