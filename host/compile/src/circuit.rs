//! Sums and products under construction: equal ones are made once, and what is
//! constant is worked out at once.

use std::collections::HashMap;

use tellmark_core::pack::Operation;

use crate::numbers::Number as _;

/// A node of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct NodeId(usize);

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
    Input(usize),
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
}

/// What some outputs need of a circuit: constants, inputs and steps, in this order.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Bits of `f64`.
    pub constants: Vec<u64>,
    /// How many inputs follow the constants.
    pub inputs: usize,
    /// Sums and products.
    pub steps: Vec<Operation>,
    /// The node of each output.
    pub outputs: Vec<usize>,
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

    fn node(&mut self, node: Node) -> NodeId {
        if let Some(&id) = self.known.get(&node) {
            return id;
        }
        let id = NodeId(self.nodes.len());
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
        self.node(Node::Input(number))
    }

    fn value(&self, id: NodeId) -> Option<f64> {
        match self.nodes[id.0] {
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

    /// What the outputs need, in the order of a pack. `None` if it is too large
    /// for a pack's node numbers.
    #[must_use]
    pub fn finish(&self, inputs: usize, outputs: &[NodeId]) -> Option<Finished> {
        let laid = self.lay_out(inputs, outputs);
        if laid.constants.len() + inputs + laid.steps.len() > 0x7fff {
            return None;
        }
        let outputs = laid.outputs.iter().map(|node| node.half());
        let outputs = outputs.collect::<Result<Vec<_>, _>>().ok()?;
        Some(Finished {
            constants: laid.constants,
            steps: laid.steps,
            outputs,
        })
    }

    /// What the outputs need, with room for this many inputs.
    #[must_use]
    pub fn lay_out(&self, inputs: usize, outputs: &[NodeId]) -> Laid {
        let mut needed = vec![false; self.nodes.len()];
        for output in outputs {
            needed[output.0] = true;
        }
        // Operands always come before what is made of them.
        for (i, node) in self.nodes.iter().enumerate().rev() {
            if let (true, Node::Sum(a, b) | Node::Product(a, b)) = (needed[i], node) {
                needed[a.0] = true;
                needed[b.0] = true;
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
        for (i, node) in self.nodes.iter().enumerate() {
            if !needed[i] {
                continue;
            }
            let (product, a, b) = match *node {
                Node::Constant(_) => continue,
                Node::Input(number) => {
                    place[i] = constants.len() + number;
                    continue;
                }
                Node::Sum(a, b) => (false, a, b),
                Node::Product(a, b) => (true, a, b),
            };
            place[i] = constants.len() + inputs + steps.len();
            steps.push(Operation {
                product,
                left: place[a.0],
                right: place[b.0],
            });
        }
        Laid {
            constants,
            inputs,
            steps,
            outputs: outputs.iter().map(|o| place[o.0]).collect(),
        }
    }
}
