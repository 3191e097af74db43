//! Wood and its moisture worked out.

use super::raw::{ClimateText, MoistureAtText, MoistureText, SpeciesText};
use super::resolve::Resolver;
use crate::model::wood::{Moisture, MoistureAt, Wood};

/// Works a wood out.
pub fn species(written: &SpeciesText, resolver: &mut Resolver) -> Option<Wood> {
    match written {
        SpeciesText::Named(name) => Some(Wood::Named(name.clone())),
        SpeciesText::Given(given) => {
            let (radial, tangential) = (resolver.number(&given.radial), resolver.number(&given.tangential));
            let density = given.density.as_ref().map_or(Some(None), |d| resolver.number(d).map(Some));
            Some(Wood::Given {
                name: given.name.clone(),
                radial: radial?,
                tangential: tangential?,
                density: density?,
            })
        }
    }
}

/// Works the moisture contents out.
pub fn moisture(written: &MoistureText, resolver: &mut Resolver) -> Option<Moisture> {
    let all = [&written.today, &written.driest, &written.dampest].map(|at| moisture_at(at, resolver));
    let [today, driest, dampest] = all;
    Some(Moisture { today: today?, driest: driest?, dampest: dampest? })
}

fn moisture_at(written: &MoistureAtText, resolver: &mut Resolver) -> Option<MoistureAt> {
    match written {
        MoistureAtText::Percent(percent) => resolver.number(percent).map(MoistureAt::Percent),
        MoistureAtText::Climate(ClimateText::CelsiusClimate(air)) => {
            let (celsius, humidity) = (resolver.number(&air.celsius), resolver.number(&air.humidity));
            Some(MoistureAt::Climate { celsius: celsius?, humidity: humidity? })
        }
        MoistureAtText::Climate(ClimateText::FahrenheitClimate(air)) => {
            let (fahrenheit, humidity) = (resolver.number(&air.fahrenheit), resolver.number(&air.humidity));
            Some(MoistureAt::Climate { celsius: (fahrenheit? - 32.0) / 1.8, humidity: humidity? })
        }
    }
}
