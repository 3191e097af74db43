//! Steps in an order that keeps every link: a topological sort, by preference where links leave it open.

use super::step::{Link, Missed, Need, Step, Why};

/// Steps with the links between them, none of which leads round in a ring.
pub(super) struct Graph {
    pub(super) steps: Vec<Step>,
    pub(super) links: Vec<Link>,
    pub(super) missed: Vec<Missed>,
    /// Steps of two parts that wait for each other alone: sawn at one setting.
    pub(super) mitred: Vec<[usize; 2]>,
    /// Steps that wait for each other in a ring.
    pub(super) rings: Vec<Vec<usize>>,
}

impl Graph {
    /// Of steps whose needs say what comes before what; `gone` is what some do without in any order. `own` are links of another reason,
    /// kept but where they lead round in a ring, as needs are; `wished` those that are left out wherever they would close one.
    pub(super) fn of(steps: Vec<Step>, gone: Vec<Missed>, own: Vec<Link>, wished: &[Link]) -> Graph {
        let mut graph = Graph { steps, links: own, missed: gone, mitred: Vec::new(), rings: Vec::new() };
        let needs: Vec<(usize, Need)> = graph
            .steps
            .iter()
            .enumerate()
            .flat_map(|(at, step)| step.needs.iter().map(move |need| (at, *need)))
            .collect();
        let (spared, firm): (Vec<_>, Vec<_>) = needs.into_iter().partition(|(_, need)| need.used.is_spared());
        let firm: Vec<Link> = firm.into_iter().flat_map(|(at, need)| graph.links_of(at, need)).collect();
        graph.links.extend(firm);
        graph.part_the_mitred();
        graph.open_rings();
        for link in wished {
            if !graph.leads(link.after, link.before) {
                graph.links.push(*link);
            }
        }
        for (at, need) in spared {
            let links = graph.links_of(at, need);
            if links.iter().any(|link| graph.leads(link.after, link.before)) {
                graph.steps[at].needs.retain(|own| *own != need);
                graph.missed.push(Missed { step: at, need });
            } else {
                graph.links.extend(links);
            }
        }
        graph
    }

    /// What a need of a step says: after what makes it, before what takes it.
    fn links_of(&self, at: usize, need: Need) -> Vec<Link> {
        let of_part = |(index, step): &(usize, &Step)| *index != at && step.part == Some(need.part);
        let others = || self.steps.iter().enumerate().filter(of_part);
        let makers = others().filter(|(_, step)| step.makes.contains(&need.on));
        let makers = makers.map(|(maker, _)| Link { before: maker, after: at, why: Why::Makes(need) });
        let takers = others().filter(|(_, step)| step.takes.contains(&need.on));
        let takers = takers.map(|(taker, _)| Link { before: at, after: taker, why: Why::Keeps(need) });
        makers.chain(takers).collect()
    }

    /// Two steps of two parts that wait for each other are one mitre: each is sawn to its pattern, at one setting.
    fn part_the_mitred(&mut self) {
        let is_across = |link: &Link| self.steps[link.before].part != self.steps[link.after].part;
        let across: Vec<Link> = self.links.iter().filter(|link| is_across(link)).copied().collect();
        for link in &across {
            let pair = [link.before.min(link.after), link.before.max(link.after)];
            let back = across.iter().any(|other| other.before == link.after && other.after == link.before);
            if back && !self.mitred.contains(&pair) {
                self.mitred.push(pair);
            }
        }
        for [one, other] in self.mitred.clone() {
            let is_between =
                |link: &Link| [link.before, link.after] == [one, other] || [link.after, link.before] == [one, other];
            self.links.retain(|link| !is_between(link));
            for (at, beside) in [(one, other), (other, one)] {
                let part = self.steps[beside].part;
                let makes = self.steps[beside].makes.clone();
                self.steps[at].needs.retain(|need| Some(need.part) != part || !makes.contains(&need.on));
            }
        }
    }

    /// Finds what waits for itself, and lets the first of each ring go without what it waits for.
    fn open_rings(&mut self) {
        while let Some(ring) = self.ring() {
            let first = ring.first().copied().unwrap_or_default();
            let is_waited = |link: &Link| link.after == first && ring.contains(&link.before);
            let gone: Vec<Need> = self
                .links
                .iter()
                .filter(|link| is_waited(link))
                .filter_map(|link| match link.why {
                    Why::Makes(need) => Some(need),
                    _ => None,
                })
                .collect();
            self.links.retain(|link| !is_waited(link));
            self.steps[first].needs.retain(|need| !gone.contains(need));
            self.rings.push(ring);
        }
    }

    /// Steps that wait for each other, the least first; `None` where none do.
    fn ring(&self) -> Option<Vec<usize>> {
        let mut is_done = vec![false; self.steps.len()];
        loop {
            let is_free = |at: usize| !self.links.iter().any(|link| link.after == at && !is_done[link.before]);
            match (0..self.steps.len()).find(|at| !is_done[*at] && is_free(*at)) {
                Some(next) => is_done[next] = true,
                None => break,
            }
        }
        let start = (0..self.steps.len()).find(|at| !is_done[*at] && self.leads_round(*at))?;
        let ring =
            (0..self.steps.len()).filter(|at| *at == start || (self.leads(start, *at) && self.leads(*at, start)));
        Some(ring.collect())
    }

    fn leads_round(&self, at: usize) -> bool {
        self.links.iter().any(|link| link.before == at && self.leads(link.after, at))
    }

    /// Whether links lead from one step to another.
    fn leads(&self, from: usize, to: usize) -> bool {
        let mut seen = vec![false; self.steps.len()];
        let mut left = vec![from];
        while let Some(at) = left.pop() {
            if at == to {
                return true;
            }
            if !std::mem::replace(&mut seen[at], true) {
                left.extend(self.links.iter().filter(|link| link.before == at).map(|link| link.after));
            }
        }
        false
    }

    /// The steps after which some come, these included.
    pub(super) fn all_after(&self, first: &[usize]) -> Vec<usize> {
        (0..self.steps.len()).filter(|at| first.iter().any(|from| self.leads(*from, *at))).collect()
    }

    /// The steps in order: of those that are free one of the part at hand, else of the part that comes first.
    pub(super) fn sorted(&self, rank: &dyn Fn(usize) -> usize) -> Vec<usize> {
        let mut order: Vec<usize> = Vec::new();
        let mut waits: Vec<usize> =
            (0..self.steps.len()).map(|at| self.links.iter().filter(|link| link.after == at).count()).collect();
        while order.len() < self.steps.len() {
            let at_hand = order.last().and_then(|last| self.steps[*last].part);
            let key = |at: &usize| {
                let step = &self.steps[*at];
                let own = step.part.is_none() || step.part != at_hand;
                (own, step.part.map_or(usize::MAX, rank), step.work.rank(), *at)
            };
            let free = (0..self.steps.len()).filter(|at| !order.contains(at) && waits[*at] == 0).min_by_key(key);
            // No ring is left, so that one is always free.
            let Some(next) = free else { break };
            order.push(next);
            for link in self.links.iter().filter(|link| link.before == next) {
                waits[link.after] -= 1;
            }
        }
        order
    }
}
