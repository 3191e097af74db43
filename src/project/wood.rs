//! Wood and its moisture worked out.

use super::given::Given;
use super::raw::{ClimateText, MoistureAtText, SpeciesText};
use super::resolve::Resolver;
use crate::model::wood::{GivenSpecies, MoistureAt, Wood};

impl Given for Wood {
    type Text = SpeciesText;

    fn work_out(text: &SpeciesText, resolver: &mut Resolver) -> Option<Self> {
        match text {
            SpeciesText::Named(name) => Some(Wood::Named(name.clone())),
            SpeciesText::Given(given) => GivenSpecies::work_out(given, resolver).map(Wood::Given),
        }
    }
}

impl Given for MoistureAt {
    type Text = MoistureAtText;

    fn work_out(text: &MoistureAtText, resolver: &mut Resolver) -> Option<Self> {
        match text {
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
}
