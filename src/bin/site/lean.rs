//! Makes the wasm smaller where nobody sees it. What stops the module is a plain trap, which the
//! browser reports with its own words and the place; and what means the same is written the same,
//! since that is what compresses.

use std::collections::{HashMap, HashSet};
use walrus::ir::{
    BinaryOp, Binop, Br, BrIf, BrTable, Const, Instr, InstrLocId, InstrSeq, InstrSeqId,
    Unreachable, Value, Visitor, VisitorMut, dfs_in_order, dfs_pre_order_mut,
};
use walrus::{
    ConstExpr, DataKind, ExportItem, FunctionId, FunctionKind, LocalFunction, LocalId, Module,
    passes,
};

/// Everything below, in the order in which one makes room for the next.
pub(super) fn lean(module: &mut Module) {
    trap(module);
    // Without what was called for panics alone.
    passes::gc::run(module);
    if forget_reports(module) {
        trap(module);
        blank_places(module);
        passes::gc::run(module);
    }
    for function in functions(module) {
        let Some(function) = local_mut(module, function) else {
            continue;
        };
        share_traps(function);
        add_once(function);
        hint_nothing(function);
    }
    number_locals(module);
}

fn functions(module: &Module) -> Vec<FunctionId> {
    module.funcs.iter_local().map(|(id, _)| id).collect()
}

fn local(module: &Module, id: FunctionId) -> Option<&LocalFunction> {
    match &module.funcs.get(id).kind {
        FunctionKind::Local(function) => Some(function),
        _ => None,
    }
}

fn local_mut(module: &mut Module, id: FunctionId) -> Option<&mut LocalFunction> {
    match &mut module.funcs.get_mut(id).kind {
        FunctionKind::Local(function) => Some(function),
        _ => None,
    }
}

/// The blocks of a function, from its first on.
fn blocks(function: &LocalFunction) -> Vec<InstrSeqId> {
    struct Blocks(Vec<InstrSeqId>);
    impl<'a> Visitor<'a> for Blocks {
        fn start_instr_seq(&mut self, block: &'a InstrSeq) {
            self.0.push(block.id());
        }
    }
    let mut found = Blocks(Vec::new());
    dfs_in_order(&mut found, function, function.entry_block());
    found.0
}

/// What a function calls by name.
fn calls(function: &LocalFunction) -> Vec<FunctionId> {
    let all = blocks(function).into_iter();
    all.flat_map(|block| &function.block(block).instrs)
        .filter_map(|(step, _)| match step {
            Instr::Call(call) => Some(call.func),
            _ => None,
        })
        .collect()
}

/// Whether a function has no way back: no return, and its end cannot be reached.
fn never_returns(function: &LocalFunction) -> bool {
    let whole = function.entry_block();
    let last = function.block(whole).instrs.last();
    matches!(last, Some((Instr::Unreachable(_), _)))
        && blocks(function)
            .into_iter()
            .flat_map(|block| &function.block(block).instrs)
            .all(|(step, _)| match step {
                Instr::Return(_) => false,
                Instr::Br(to) => to.block != whole,
                Instr::BrIf(to) => to.block != whole,
                Instr::BrTable(to) => to.default != whole && !to.blocks.contains(&whole),
                _ => true,
            })
}

/// Whether a function comes to the browser by calls.
fn asks_browser(module: &Module, from: FunctionId) -> bool {
    let (mut seen, mut open) = (HashSet::new(), vec![from]);
    while let Some(id) = open.pop() {
        match local(module, id) {
            None => return true,
            Some(function) if seen.insert(id) => open.extend(calls(function)),
            Some(_) => {}
        }
    }
    false
}

/// Puts a trap in the place of every call that never comes back and tells the browser nothing: a
/// panic. What is made ready for it alone goes too.
fn trap(module: &mut Module) {
    let asked: HashSet<_> = module
        .exports
        .iter()
        .filter_map(|export| match export.item {
            ExportItem::Function(id) => Some(id),
            _ => None,
        })
        .collect();
    let ends: HashSet<_> = module
        .funcs
        .iter_local()
        .filter(|(id, function)| {
            never_returns(function) && !asked.contains(id) && !asks_browser(module, *id)
        })
        .map(|(id, _)| id)
        .collect();
    for id in functions(module) {
        let Some(function) = local_mut(module, id) else {
            continue;
        };
        for block in blocks(function) {
            let steps = &mut function.block_mut(block).instrs;
            let end = steps.iter().position(|(step, _)| match step {
                Instr::Unreachable(_) => true,
                Instr::Call(call) => ends.contains(&call.func),
                _ => false,
            });
            let Some(end) = end else {
                continue;
            };
            steps.truncate(end);
            while steps.last().is_some_and(|(step, _)| only_prepares(step)) {
                steps.pop();
            }
            steps.push((Unreachable {}.into(), Default::default()));
        }
    }
}

/// What nobody can miss directly before a trap.
fn only_prepares(step: &Instr) -> bool {
    matches!(
        step,
        Instr::LocalGet(_)
            | Instr::LocalSet(_)
            | Instr::LocalTee(_)
            | Instr::GlobalGet(_)
            | Instr::Const(_)
            | Instr::Unop(_)
            | Instr::Binop(_)
            | Instr::Select(_)
            | Instr::Load(_)
            | Instr::Store(_)
            | Instr::Drop(_)
    )
}

/// The printing of the standard library and its panics stand in tables, so they stay though nobody
/// calls them. They become traps, unless the module prints by itself; then no.
fn forget_reports(module: &mut Module) -> bool {
    let is_report = |id: FunctionId| {
        let name = module.funcs.get(id).name.as_deref().unwrap_or_default();
        ["core", "]"].iter().any(|before| {
            name.contains(&format!("{before}::fmt::"))
                || name.contains(&format!("{before}::panicking::"))
        })
    };
    let (reports, others): (Vec<_>, Vec<_>) =
        functions(module).into_iter().partition(|id| is_report(*id));
    let used = others
        .iter()
        .filter_map(|id| local(module, *id))
        .flat_map(calls)
        .any(is_report);
    if used {
        return false;
    }
    for id in reports {
        if let Some(function) = local_mut(module, id) {
            let whole = function.entry_block();
            function.block_mut(whole).instrs = vec![(Unreachable {}.into(), Default::default())];
        }
    }
    true
}

/// Blanks the places in the source that panics would tell: a file's name by address and length,
/// line and column.
fn blank_places(module: &mut Module) {
    let starts: HashMap<_, _> = module
        .data
        .iter()
        .filter_map(|data| match &data.kind {
            DataKind::Active {
                offset: ConstExpr::Value(Value::I32(start)),
                ..
            } => Some((data.id(), usize::try_from(*start).ok()?)),
            _ => None,
        })
        .collect();
    let mut blank = Vec::new();
    for data in module.data.iter() {
        let words = data.value.chunks_exact(4);
        let words: Vec<usize> = words
            .map(|word| {
                word.iter()
                    .rev()
                    .fold(0, |sum, byte| sum << 8 | usize::from(*byte))
            })
            .collect();
        for (at, place) in words.windows(4).enumerate() {
            let [address, length, line, column] = *place else {
                continue;
            };
            let file = module.data.iter().find_map(|data| {
                let from = address.checked_sub(*starts.get(&data.id())?)?;
                let name = data.value.get(from..from.checked_add(length)?)?;
                let is_file = name.ends_with(b".rs") && name.iter().all(u8::is_ascii_graphic);
                is_file.then(|| (data.id(), from..from + length))
            });
            if let Some(file) = file
                && line < 100_000
                && column < 1_000
            {
                blank.push((data.id(), 4 * at..4 * at + 16));
                blank.push(file);
            }
        }
    }
    for (id, range) in blank {
        module.data.get_mut(id).value[range].fill(0);
    }
}

/// Where two blocks end one after the other in a trap, both leave to the outer one.
fn share_traps(function: &mut LocalFunction) {
    while let Some((outer, inner)) = two_traps(function) {
        let steps = std::mem::take(&mut function.block_mut(inner).instrs);
        let around = &mut function.block_mut(outer).instrs;
        around.truncate(around.len() - 2);
        around.extend(steps);
        dfs_pre_order_mut(&mut Leave { inner, outer }, function, outer);
    }
}

/// A block before a trap whose own last steps are another block and a trap.
fn two_traps(function: &LocalFunction) -> Option<(InstrSeqId, InstrSeqId)> {
    blocks(function).into_iter().find_map(|block| {
        let steps = &function.block(block).instrs;
        steps.windows(2).find_map(|pair| {
            let outer = before_trap(pair)?;
            let inner = before_trap(function.block(outer).instrs.last_chunk::<2>()?)?;
            Some((outer, inner))
        })
    })
}

fn before_trap<Place>(pair: &[(Instr, Place)]) -> Option<InstrSeqId> {
    match pair {
        [(Instr::Block(block), _), (Instr::Unreachable(_), _)] => Some(block.seq),
        _ => None,
    }
}

struct Leave {
    inner: InstrSeqId,
    outer: InstrSeqId,
}

impl Leave {
    fn turn(&self, to: &mut InstrSeqId) {
        if *to == self.inner {
            *to = self.outer;
        }
    }
}

impl VisitorMut for Leave {
    fn visit_br_mut(&mut self, step: &mut Br) {
        self.turn(&mut step.block);
    }

    fn visit_br_if_mut(&mut self, step: &mut BrIf) {
        self.turn(&mut step.block);
    }

    fn visit_br_table_mut(&mut self, step: &mut BrTable) {
        self.turn(&mut step.default);
        step.blocks.iter_mut().for_each(|to| self.turn(to));
    }
}

/// Two constants that are added one after the other as their sum.
fn add_once(function: &mut LocalFunction) {
    let add = |step: &Instr| {
        matches!(
            step,
            Instr::Binop(Binop {
                op: BinaryOp::I32Add
            })
        )
    };
    let constant = |step: &Instr| match step {
        Instr::Const(Const {
            value: Value::I32(value),
        }) => Some(*value),
        _ => None,
    };
    for block in blocks(function) {
        let steps = std::mem::take(&mut function.block_mut(block).instrs);
        let mut out: Vec<(Instr, InstrLocId)> = Vec::with_capacity(steps.len());
        for (step, place) in steps {
            if let [.., (first, _), (first_add, _), (second, _)] = out.as_slice()
                && let (Some(one), Some(other)) = (constant(first), constant(second))
                && add(first_add)
                && add(&step)
            {
                out.truncate(out.len() - 3);
                let value = Value::I32(one.wrapping_add(other));
                out.push((Const { value }.into(), place));
            }
            out.push((step, place));
        }
        function.block_mut(block).instrs = out;
    }
}

/// No hint how an address is aligned, which the machines of today do not need.
fn hint_nothing(function: &mut LocalFunction) {
    for block in blocks(function) {
        for (step, _) in &mut function.block_mut(block).instrs {
            match step {
                Instr::Load(load) => load.arg.align = 1,
                Instr::Store(store) => store.arg.align = 1,
                _ => {}
            }
        }
    }
}

/// Numbers the locals of every function by how often they are used.
fn number_locals(module: &mut Module) {
    for id in functions(module) {
        let Some(function) = local(module, id) else {
            continue;
        };
        let mut uses = Uses(Vec::new());
        dfs_in_order(&mut uses, function, function.entry_block());
        let mut found: Vec<(LocalId, usize)> = Vec::new();
        let mut at = HashMap::new();
        for used in uses.0 {
            if !function.args.contains(&used) {
                let place = *at.entry(used).or_insert_with(|| {
                    found.push((used, 0));
                    found.len() - 1
                });
                found[place].1 += 1;
            }
        }
        found.sort_by_key(|(_, times)| std::cmp::Reverse(*times));
        let mut names = Names(HashMap::new());
        for (old, _) in found {
            let kind = module.locals.get(old).ty();
            names.0.insert(old, module.locals.add(kind));
        }
        if let Some(function) = local_mut(module, id) {
            let whole = function.entry_block();
            dfs_pre_order_mut(&mut names, function, whole);
        }
    }
}

/// Every use of a local, in order.
struct Uses(Vec<LocalId>);

impl Visitor<'_> for Uses {
    fn visit_local_id(&mut self, id: &LocalId) {
        self.0.push(*id);
    }
}

/// New locals in place of old ones.
struct Names(HashMap<LocalId, LocalId>);

impl VisitorMut for Names {
    fn visit_local_id_mut(&mut self, id: &mut LocalId) {
        if let Some(new) = self.0.get(id) {
            *id = *new;
        }
    }
}
