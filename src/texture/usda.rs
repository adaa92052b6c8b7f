//! The twelve classes of the United States: Soil Survey Manual, Agriculture Handbook 18 (2017),
//! chapter 3, in the wording clarified by Benham and Ahrens 2009. Clay below 0.002 mm, silt to
//! 0.05 mm, sand to 2 mm.

macro_rules! classes {
    ($($(#[$doc:meta])* $name:ident $id:literal;)*) => {
        /// A texture class.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Class { $($(#[$doc])* $name,)* }

        impl Class {
            /// Every class, from sand to clay.
            pub const ALL: &[Class] = &[$(Class::$name,)*];

            /// Its id in an outcome.
            pub fn id(self) -> &'static str {
                match self { $(Class::$name => $id,)* }
            }
        }
    };
}

classes! {
    /// Sand.
    Sand "sand";
    /// Loamy sand.
    LoamySand "loamy_sand";
    /// Sandy loam.
    SandyLoam "sandy_loam";
    /// Loam.
    Loam "loam";
    /// Silt loam.
    SiltLoam "silt_loam";
    /// Silt.
    Silt "silt";
    /// Sandy clay loam.
    SandyClayLoam "sandy_clay_loam";
    /// Clay loam.
    ClayLoam "clay_loam";
    /// Silty clay loam.
    SiltyClayLoam "silty_clay_loam";
    /// Sandy clay.
    SandyClay "sandy_clay";
    /// Silty clay.
    SiltyClay "silty_clay";
    /// Clay.
    Clay "clay";
}

/// The class of sand, silt and clay in percent that sum to 100. Exactly one fits: edges belong to
/// one side. Values are judged to a thousandth, so that binary fractions do not move an edge.
pub fn classify([_, silt, clay]: [f64; 3]) -> Class {
    let thousandths = |value: f64| (value * 1000.0).round();
    let (z, c) = (thousandths(silt), thousandths(clay));
    // Sand is what is left, so that the three sum to 100 after rounding too.
    let s = 100_000.0 - z - c;
    let at = |percent: f64| percent * 1000.0;
    if z + 1.5 * c < at(15.0) {
        Class::Sand
    } else if z + 2.0 * c < at(30.0) {
        Class::LoamySand
    } else if c >= at(40.0) {
        match () {
            () if z >= at(40.0) => Class::SiltyClay,
            () if s <= at(45.0) => Class::Clay,
            () => Class::SandyClay,
        }
    } else if c >= at(35.0) && s > at(45.0) {
        Class::SandyClay
    } else if c >= at(27.0) && s <= at(45.0) {
        if s <= at(20.0) {
            Class::SiltyClayLoam
        } else {
            Class::ClayLoam
        }
    } else if c >= at(20.0) && z < at(28.0) && s > at(45.0) {
        Class::SandyClayLoam
    } else if z >= at(80.0) && c < at(12.0) {
        Class::Silt
    } else if z >= at(50.0) {
        Class::SiltLoam
    } else if c >= at(7.0) && z >= at(28.0) && s <= at(52.0) {
        Class::Loam
    } else {
        Class::SandyLoam
    }
}

/// A class as a region to draw.
#[derive(Clone, Copy, Debug)]
pub struct Region {
    /// The class.
    pub class: Class,
    /// Corners as clay, silt, sand in percent, in order around.
    pub corners: &'static [[f64; 3]],
    /// Where its name stands, as clay, silt, sand in percent.
    pub label: [f64; 3],
}

/// The regions of the triangle. Corners by the same source, read off its inequalities.
pub const REGIONS: &[Region] = &[
    Region {
        class: Class::Sand,
        corners: &[[0., 0., 100.], [0., 15., 85.], [10., 0., 90.]],
        label: [3.3, 4.6, 92.1],
    },
    Region {
        class: Class::LoamySand,
        corners: &[
            [0., 15., 85.],
            [0., 30., 70.],
            [15., 0., 85.],
            [10., 0., 90.],
        ],
        label: [4.6, 15.2, 80.2],
    },
    Region {
        class: Class::SandyLoam,
        corners: &[
            [0., 30., 70.],
            [0., 50., 50.],
            [7., 50., 43.],
            [7., 41., 52.],
            [20., 28., 52.],
            [20., 0., 80.],
            [15., 0., 85.],
        ],
        label: [11.0, 25.0, 64.0],
    },
    Region {
        class: Class::Loam,
        corners: &[
            [7., 41., 52.],
            [7., 50., 43.],
            [27., 50., 23.],
            [27., 28., 45.],
            [20., 28., 52.],
        ],
        label: [18.0, 41.0, 41.0],
    },
    Region {
        class: Class::SiltLoam,
        corners: &[
            [0., 50., 50.],
            [0., 80., 20.],
            [12., 80., 8.],
            [12., 88., 0.],
            [27., 73., 0.],
            [27., 50., 23.],
        ],
        label: [14.5, 64.0, 21.5],
    },
    Region {
        class: Class::Silt,
        corners: &[
            [0., 80., 20.],
            [0., 100., 0.],
            [12., 88., 0.],
            [12., 80., 8.],
        ],
        label: [5.5, 87.0, 7.5],
    },
    Region {
        class: Class::SandyClayLoam,
        corners: &[
            [20., 0., 80.],
            [20., 28., 52.],
            [27., 28., 45.],
            [35., 20., 45.],
            [35., 0., 65.],
        ],
        label: [27.3, 13.2, 59.5],
    },
    Region {
        class: Class::ClayLoam,
        corners: &[
            [27., 28., 45.],
            [27., 53., 20.],
            [40., 40., 20.],
            [40., 15., 45.],
        ],
        label: [33.5, 34.0, 32.5],
    },
    Region {
        class: Class::SiltyClayLoam,
        corners: &[
            [27., 53., 20.],
            [27., 73., 0.],
            [40., 60., 0.],
            [40., 40., 20.],
        ],
        label: [33.5, 56.5, 10.0],
    },
    Region {
        class: Class::SandyClay,
        corners: &[[35., 0., 65.], [35., 20., 45.], [55., 0., 45.]],
        label: [41.0, 7.0, 52.0],
    },
    Region {
        class: Class::SiltyClay,
        corners: &[[40., 40., 20.], [40., 60., 0.], [60., 40., 0.]],
        label: [46.0, 47.0, 7.0],
    },
    Region {
        class: Class::Clay,
        corners: &[
            [40., 15., 45.],
            [40., 40., 20.],
            [60., 40., 0.],
            [100., 0., 0.],
            [55., 0., 45.],
        ],
        label: [58.0, 20.5, 21.5],
    },
];
