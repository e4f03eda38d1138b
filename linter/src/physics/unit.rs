//! Typed units that only the physics needs.

/// Resistivity, ohm metre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct OhmMetres(pub f64);

/// Temperature coefficient, 1/K, counted from 20 °C.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct PerKelvin(pub f64);

/// Heat transfer coefficient of a surface, W/(m² K).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct HeatTransfer(pub f64);

/// Heat given off by a metre of conductor, W/m.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct WattsPerMetre(pub f64);

/// Adiabatic factor of a conductor and its insulation, A √s/mm².
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct AdiabaticK(pub f64);

/// EMF constant of a motor, V s/rad; in SI units the same number as its torque constant in N m/A.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct EmfConstant(pub f64);

/// Energy of a short event, joule; 3600 of them are a watt-hour, in which the language keeps energies.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Joules(pub f64);

impl std::fmt::Display for Joules {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        wattle_grammar::unit::write_scaled(f, self.0, "J")
    }
}
