//! Sums and products under construction: equal ones are made once, and what is
//! constant is worked out at once.

use std::collections::{BTreeSet, HashMap};
use std::ops::Range;

use tellmark_core::pack::{BLOCK_STATES, Block, NONE, Operation};

use super::factor::SilentNodes;

/// A node of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct NodeId(u32);

impl NodeId {
    /// The constant 0.
    pub const ZERO: Self = Self(0);
    /// The constant 1.
    pub const ONE: Self = Self(1);
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Node {
    /// Bits of an `f64`.
    Constant(u64),
    Input(u32),
    Sum(NodeId, NodeId),
    Product(NodeId, NodeId),
}

/// A circuit under construction.
#[derive(Debug)]
pub struct Circuit {
    nodes: Vec<Node>,
    known: HashMap<Node, NodeId>,
    limit: usize,
}

/// A finished program: constants, inputs and steps in the order of a pack.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Finished {
    /// Bits of `f64`.
    pub constants: Vec<u64>,
    /// Sums and products.
    pub steps: Vec<Operation>,
    /// The node of each entry of the message.
    pub outputs: Vec<u16>,
    /// Runs of steps that come to 1 while some states have no answer.
    pub blocks: Vec<Block>,
}

/// The circuit has grown past its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLarge;

impl Circuit {
    /// An empty circuit that may grow to `limit` nodes.
    #[must_use]
    pub fn new(limit: usize) -> Self {
        let mut circuit = Self {
            nodes: Vec::new(),
            known: HashMap::new(),
            limit,
        };
        circuit.constant(0.0);
        circuit.constant(1.0);
        circuit
    }

    /// Whether it has grown past its limit.
    ///
    /// # Errors
    /// [`TooLarge`] if so.
    pub fn check(&self) -> Result<(), TooLarge> {
        if self.nodes.len() > self.limit {
            Err(TooLarge)
        } else {
            Ok(())
        }
    }

    /// The node that will be made next.
    #[must_use]
    pub fn next(&self) -> NodeId {
        NodeId(u32::try_from(self.nodes.len()).unwrap_or(u32::MAX))
    }

    fn node(&mut self, node: Node) -> NodeId {
        if let Some(&id) = self.known.get(&node) {
            return id;
        }
        let id = NodeId(u32::try_from(self.nodes.len()).unwrap_or(u32::MAX));
        self.nodes.push(node);
        self.known.insert(node, id);
        id
    }

    /// A constant, which must not be negative.
    pub fn constant(&mut self, value: f64) -> NodeId {
        self.node(Node::Constant(value.to_bits()))
    }

    /// An input, numbered from 0.
    pub fn input(&mut self, number: usize) -> NodeId {
        self.node(Node::Input(u32::try_from(number).unwrap_or(u32::MAX)))
    }

    fn value(&self, id: NodeId) -> Option<f64> {
        match self.nodes[id.0 as usize] {
            Node::Constant(bits) => Some(f64::from_bits(bits)),
            _ => None,
        }
    }

    /// A sum.
    pub fn sum(&mut self, a: NodeId, b: NodeId) -> NodeId {
        if a == NodeId::ZERO {
            return b;
        }
        if b == NodeId::ZERO {
            return a;
        }
        if let (Some(x), Some(y)) = (self.value(a), self.value(b)) {
            return self.constant(x + y);
        }
        self.node(Node::Sum(a.min(b), a.max(b)))
    }

    /// A product.
    pub fn product(&mut self, a: NodeId, b: NodeId) -> NodeId {
        if a == NodeId::ZERO || b == NodeId::ZERO {
            return NodeId::ZERO;
        }
        if a == NodeId::ONE {
            return b;
        }
        if b == NodeId::ONE {
            return a;
        }
        if let (Some(x), Some(y)) = (self.value(a), self.value(b)) {
            return self.constant(x * y);
        }
        self.node(Node::Product(a.min(b), a.max(b)))
    }

    fn operands(&self, node: usize) -> Option<[NodeId; 2]> {
        match self.nodes[node] {
            Node::Sum(a, b) | Node::Product(a, b) => Some([a, b]),
            Node::Constant(_) | Node::Input(_) => None,
        }
    }

    /// For each node, the silent table it may be passed over with. A node on the
    /// way to a table's entries is not 1 itself; if by chance something else has
    /// the same sum or product, it must be worked out all the same.
    fn silence(
        &self,
        needed: &[bool],
        outputs: &[NodeId],
        silent: &[SilentNodes],
    ) -> Vec<Option<usize>> {
        let mut of = vec![None; self.nodes.len()];
        for (table, nodes) in silent.iter().enumerate() {
            for slot in &mut of[nodes.nodes.0.0 as usize..nodes.nodes.1.0 as usize] {
                *slot = Some(table);
            }
        }
        for output in outputs {
            let at = output.0 as usize;
            if of[at].is_some_and(|table| !silent[table].entries.contains(output)) {
                of[at] = None;
            }
        }
        // Whatever uses a node comes after it.
        for user in (0..self.nodes.len()).rev().filter(|&i| needed[i]) {
            for operand in self.operands(user).into_iter().flatten() {
                let at = operand.0 as usize;
                if let Some(table) = of[at]
                    && of[user] != of[at]
                    && !silent[table].entries.contains(&operand)
                {
                    of[at] = None;
                }
            }
        }
        of
    }

    /// Keeps what the outputs need, in the order of a pack: constants, `inputs`
    /// inputs, steps. `is_sought` says to which inputs slopes are wanted in any
    /// case. `None` if it is too large for a pack's node numbers.
    #[must_use]
    pub fn finish(
        &self,
        inputs: usize,
        outputs: &[NodeId],
        silent: &[SilentNodes],
        is_sought: impl Fn(usize) -> bool,
    ) -> Option<Finished> {
        let mut needed = vec![false; self.nodes.len()];
        for output in outputs {
            needed[output.0 as usize] = true;
        }
        // Operands always come before what is made of them.
        for (i, node) in self.nodes.iter().enumerate().rev() {
            if let (true, Node::Sum(a, b) | Node::Product(a, b)) = (needed[i], node) {
                needed[a.0 as usize] = true;
                needed[b.0 as usize] = true;
            }
        }
        let mut constants = Vec::new();
        let mut place = vec![0_usize; self.nodes.len()];
        for (i, node) in self.nodes.iter().enumerate() {
            if let (true, Node::Constant(bits)) = (needed[i], node) {
                place[i] = constants.len();
                constants.push(*bits);
            }
        }
        let mut steps = Vec::new();
        let mut leads = vec![false; self.nodes.len()];
        for (i, node) in self.nodes.iter().enumerate() {
            if !needed[i] {
                continue;
            }
            let (product, a, b) = match *node {
                Node::Constant(_) => continue,
                Node::Input(number) => {
                    place[i] = constants.len() + number as usize;
                    leads[i] = is_sought(number as usize);
                    continue;
                }
                Node::Sum(a, b) => (false, a, b),
                Node::Product(a, b) => (true, a, b),
            };
            place[i] = constants.len() + inputs + steps.len();
            leads[i] = leads[a.0 as usize] || leads[b.0 as usize];
            steps.push(Operation {
                product,
                leads: leads[i],
                left: place[a.0 as usize],
                right: place[b.0 as usize],
            });
        }
        let steps_made = steps.len();
        let nodes = constants.len() + inputs + steps_made;
        if nodes > 0x7fff {
            return None;
        }
        let silence = self.silence(&needed, outputs, silent);
        let of_steps = (0..self.nodes.len())
            .filter(|&i| needed[i] && self.operands(i).is_some())
            .map(|i| silence[i]);
        let blocks = blocks(silent, of_steps)?;
        let outputs = outputs
            .iter()
            .map(|output| u16::try_from(place[output.0 as usize]).unwrap_or(0))
            .collect();
        Some(Finished {
            constants,
            steps,
            outputs,
            blocks,
        })
    }
}

/// Blocks shorter than this are not worth looking up.
const SHORTEST: usize = 3;

/// Runs of steps that depend on the same states, from the silent table (if any)
/// that each step belongs to.
fn blocks(
    silent: &[SilentNodes],
    of_steps: impl Iterator<Item = Option<usize>>,
) -> Option<Vec<Block>> {
    let mut runs: Vec<(Range<usize>, &BTreeSet<usize>)> = Vec::new();
    for (step, table) in of_steps.enumerate() {
        let Some(table) = table else { continue };
        let states = &silent[table].states;
        match runs.last_mut() {
            Some((last, of)) if last.end == step && *of == states => last.end = step + 1,
            _ => runs.push((step..step + 1, states)),
        }
    }
    runs.retain(|(range, states)| range.len() >= SHORTEST && !states.is_empty());
    runs.truncate(usize::from(u8::MAX));
    runs.into_iter()
        .map(|(range, of)| {
            let mut states = [NONE; BLOCK_STATES];
            for (slot, &state) in states.iter_mut().zip(of) {
                *slot = u16::try_from(state).ok()?;
            }
            Some(Block {
                first: u16::try_from(range.start).ok()?,
                steps: u16::try_from(range.len()).ok()?,
                states,
            })
        })
        .collect()
}
