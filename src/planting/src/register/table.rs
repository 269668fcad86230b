//! How a room lists its inputs: one entry each, from which sliders, checks, files, links, help and the printed
//! list of assumptions are made.

use crate::kit::figure::Source;

/// A whole that holds the inputs of a room.
pub trait Holds<I> {
    /// The room's inputs.
    fn inputs(&self) -> &I;
    /// The same, to be set.
    fn inputs_mut(&mut self) -> &mut I;
}

/// What is told of an input when somebody asks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Note {
    /// One or two plain sentences.
    pub help: &'static str,
    /// Where its default comes from.
    pub source: Source,
}

/// Lists the inputs of a room.
///
/// ```text
/// inputs! { Inputs;
///     number  6 in_row_spacing (Length as Length, FT => 30.0 * FT, steps 0.25 * FT, 0.05)
///             SPACING follows "In-row spacing" "Distance from tree to tree along the row." SOURCE;
///     choice 22 support (Support) TRELLIS follows "Support" "What holds the trees up." SOURCE;
///     lengths 23 wire_heights (0.5 * FT => 16.0 * FT, steps 0.25 * FT, 0.05, most 8) TRELLIS follows …;
/// }
/// ```
///
/// An entry says in this order: its kind; its code in links, which is never changed nor given to another input; its
/// field; range and steps in SI, for readers with US and with metric units; its group; whether its default `follows`
/// the training system or is `own`; its name, its help, and where its default comes from. Where the drawing it changes most isn't
/// its group's, `in` names that one; where its slider doesn't spread the range evenly, `scale` names how.
///
/// Made from it are `Parameters::<S>::LIST`, for any whole that [`Holds`] these inputs, and the function `note`, apart
/// from the list so that texts can come to the page later than sliders.
macro_rules! inputs {
    ($inputs:ty; $($kind:ident $code:literal $field:ident ($($detail:tt)*) $group:ident $follows:ident $label:literal $help:literal $source:expr
        $(, in $view:ident)? $(, scale $scale:ident)?;)+) => {
        /// The inputs of this room as parameters of any whole that holds them.
        pub struct Parameters<S>(std::marker::PhantomData<S>);

        impl<S: $crate::register::table::Holds<$inputs> + 'static> Parameters<S> {
            /// Every input.
            pub const LIST: &'static [$crate::register::parameter::Parameter<S>] = &[$(
                $crate::register::parameter::Parameter {
                    key: stringify!($field),
                    code: $code,
                    label: $label,
                    group: $group,
                    follows_system: $crate::register::table::follows!($follows),
                    view: $crate::register::table::view!($group $($view)?),
                    scale: $crate::register::table::scale!($($scale)?),
                    kind: $crate::register::table::kind!($kind S $inputs, $field, $($detail)*),
                },
            )+];
        }

        /// What is told of an input of this room.
        pub fn note(key: &str) -> Option<$crate::register::table::Note> {
            use $crate::register::table::Note;
            const NOTES: &[(&str, Note)] = &[$((stringify!($field), Note { help: $help, source: $source }),)+];
            NOTES.iter().find(|(known, _)| *known == key).map(|(_, note)| *note)
        }
    };
}

macro_rules! follows {
    (follows) => {
        true
    };
    (own) => {
        false
    };
}

macro_rules! view {
    ($group:ident) => {
        $group.view
    };
    ($group:ident $view:ident) => {
        stringify!($view)
    };
}

macro_rules! scale {
    () => {
        None
    };
    ($scale:ident) => {
        Some(&$scale)
    };
}

macro_rules! kind {
    (number $s:ident $inputs:ty, $field:ident, $type:ident as $quantity:ident, $min:expr => $max:expr, steps $us:expr, $metric:expr) => {
        $crate::register::parameter::Kind::Number($crate::register::parameter::Number {
            quantity: $crate::kit::quantity::Quantity::$quantity,
            min: $min,
            max: $max,
            step_us: $us,
            step_metric: $metric,
            get: |s: &$s| $crate::register::table::get!($type (<$s as $crate::register::table::Holds<$inputs>>::inputs(s).$field)),
            set: |s: &mut $s, v: f64| {
                <$s as $crate::register::table::Holds<$inputs>>::inputs_mut(s).$field = $crate::register::table::set!($type v);
            },
        })
    };
    (choice $s:ident $inputs:ty, $field:ident, $type:ty) => {
        $crate::register::parameter::Kind::Choice($crate::register::parameter::ChoiceList {
            options: $crate::register::parameter::options::<$type>,
            get: |s: &$s| {
                $crate::kit::choice::Choice::key(<$s as $crate::register::table::Holds<$inputs>>::inputs(s).$field)
            },
            set: |s: &mut $s, key: &str| {
                let entry = <$type as $crate::kit::choice::Choice>::from_key(key);
                let inputs = <$s as $crate::register::table::Holds<$inputs>>::inputs_mut(s);
                entry.map(|entry| inputs.$field = entry).is_some()
            },
        })
    };
    (lengths $s:ident $inputs:ty, $field:ident, $min:expr => $max:expr, steps $us:expr, $metric:expr, most $most:literal) => {
        $crate::register::parameter::Kind::Lengths($crate::register::parameter::Lengths {
            min: $min,
            max: $max,
            step_us: $us,
            step_metric: $metric,
            most: $most,
            get: |s: &$s| &<$s as $crate::register::table::Holds<$inputs>>::inputs(s).$field,
            set: |s: &mut $s, lengths| {
                <$s as $crate::register::table::Holds<$inputs>>::inputs_mut(s).$field = lengths;
            },
        })
    };
}

macro_rules! get {
    (Years $value:expr) => {
        $value
    };
    (Hours $value:expr) => {
        $value
    };
    (Plain $value:expr) => {
        $value
    };
    ($type:ident $value:expr) => {
        $value.value
    };
}

macro_rules! set {
    (Length $v:ident) => {
        uom::si::f64::Length::new::<uom::si::length::meter>($v)
    };
    (Angle $v:ident) => {
        uom::si::f64::Angle::new::<uom::si::angle::radian>($v)
    };
    (Ratio $v:ident) => {
        uom::si::f64::Ratio::new::<uom::si::ratio::ratio>($v)
    };
    (PerLength $v:ident) => {
        uom::si::f64::ReciprocalLength::new::<uom::si::reciprocal_length::reciprocal_meter>($v)
    };
    (Years $v:ident) => {
        $v.round()
    };
    (Hours $v:ident) => {
        $v
    };
    (Plain $v:ident) => {
        $v
    };
    (Force $v:ident) => {
        uom::si::f64::Force::new::<uom::si::force::newton>($v)
    };
    (Velocity $v:ident) => {
        uom::si::f64::Velocity::new::<uom::si::velocity::meter_per_second>($v)
    };
    (Warming $v:ident) => {
        uom::si::f64::TemperatureInterval::new::<uom::si::temperature_interval::kelvin>($v)
    };
    (MassPerLand $v:ident) => {
        uom::si::f64::ArealMassDensity::new::<uom::si::areal_mass_density::kilogram_per_square_meter>($v)
    };
}

pub(crate) use {follows, get, inputs, kind, scale, set, view};
