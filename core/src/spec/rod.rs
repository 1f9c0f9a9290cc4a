//! The truss rod's channel.

use alloc::vec;
use alloc::vec::Vec;

use super::visit::group;
use crate::measure::{Length, Station};

group! {
    /// Depth of the rod's channel at a station.
    ChannelAt {
        /// Where along the neck.
        at: Station = Station::NUT, required because "a measure means nothing without its place";
        /// Depth of the channel's floor below the glue line.
        depth: Length = Length::from_mm(9.5),
            within 2 to 40 "mm" because "a shallower channel holds no rod and a deeper one comes out of the back",
            required because "a station without a depth says nothing";
    }
}

group! {
    /// The truss rod's channel and its access pocket.
    Rod {
        /// Whether there is a rod at all.
        fitted: bool = true;
        /// Width of the channel.
        width: Length = Length::from_mm(6.35),
            within 2 to 20 "mm" because "a narrower channel holds no rod and a wider one leaves no wood beside it";
        /// Depth of the channel's floor below the glue line, at stations.
        depth: Vec<ChannelAt> = vec![ChannelAt::default()],
            size 1 to 64 because "a channel has a depth, and 64 stations are more than a rod bends to";
        /// Where the channel starts.
        start: Station = Station::NUT;
        /// Where the channel ends.
        end: Option<Station> = None;
        /// Length of the access pocket in the headstock's face, from the nut's headstock side; 0 for none.
        pocket_length: Length = Length::from_mm(0.0),
            within 0 to 120 "mm" because "0 is no pocket, and a longer one cuts through the place where headstocks break";
        /// Width of the access pocket.
        pocket_width: Length = Length::from_mm(14.0),
            within 2 to 40 "mm" because "no key enters a narrower pocket and a wider one leaves no wood beside it";
        /// Depth of the access pocket below the headstock's face.
        pocket_depth: Length = Length::from_mm(10.0),
            within 0 to 30 "mm" because "0 is no pocket, and a deeper one comes out of the headstock's back";
        /// The least wood there should be between the channel and the back; less is a caution.
        least_wall: Length = Length::from_mm(3.0),
            within 0 to 20 "mm" because "0 asks for no wood at all, and a thicker wall leaves no depth for the rod";
    }
}
