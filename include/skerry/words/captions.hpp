// What stands on the page and on pictures, as formatting texts: {} are numbers, names and signs.
// Layer: words. Sees nothing.
#pragma once

namespace skerry::words::caption {

// The page. Signs are those of HTML.
inline constexpr auto from = "From {}";
inline constexpr auto from_after_region = ", from {}";
inline constexpr auto put_up = "Put up";
inline constexpr auto lay_along = "; lay the wire along {:.0f}&#176;";
inline constexpr auto alone = ". Alone it reaches {}; {}.";
inline constexpr auto how_firm = "How firm: {}.";
inline constexpr auto any_mass = "any mass";
inline constexpr auto left = "What stays at home, and what it would add";
inline constexpr auto cannot_be = "What cannot be, and why";
inline constexpr auto region_line = "Bearing {:.0f}&#176;, {:.0f} km; {} of what is wanted there is served.";
inline constexpr auto over_sea = "; dotted: over the sea";
inline constexpr auto no_better_kit = "No better kit of any mass exists.";
inline constexpr auto search_stopped = "The search was stopped: better kits may exist.";
inline constexpr auto not_asked = "not asked";
inline constexpr auto never_sets = "the Sun does not set";
inline constexpr auto never_rises = "the Sun does not rise";
inline constexpr auto session_after = "a session runs past it";
inline constexpr auto no_battery = "No battery is carried: power is found at the site.";

// Why, in plain words.
inline constexpr auto nothing_works = "no band works while you are on the air";
inline constexpr auto works_on = "works on ";
inline constexpr auto sometimes_on = "now and then on ";
inline constexpr auto from_site = " from {}";
inline constexpr auto two_ends =
    "{} to {}. Local time there is that of the region's largest group of people.";

// Strips of hours.
inline constexpr auto utc = "UTC";
inline constexpr auto here = "here";
inline constexpr auto there = "there";
inline constexpr auto sun = "Sun";
inline constexpr auto sun_here = "Sun here";
inline constexpr auto sun_there = "Sun there";
inline constexpr auto sun_height = "{}, Sun {:.0f} degrees";
inline constexpr auto strip_scrolls = "{} by hour, scrolls sideways";
inline constexpr auto strip_table = "Days in ten to {}, band by UTC hour";
inline constexpr auto strip_picture = "Days in ten to {}, bands by UTC hour";
inline constexpr auto no_setup = "Nothing in the kit works {} here.";

// The field card.
inline constexpr auto card_region =
    "{} &#183; bearing {:03.0f}&#176; (long way {:03.0f}&#176;) &#183; {:.0f} km &#183; there {} "
    "&#183; open {:.0f} of {:.0f} h on the air";
inline constexpr auto card_closed = "no band opens with this kit";
inline constexpr auto card_left = "Not on this card: {}.";
inline constexpr auto card_with = "{}: {} ({})";
inline constexpr auto card_sun = "Sun (local)";
inline constexpr auto card_day = "{} up {} down {}";
inline constexpr auto card_leave = "leave by ";
inline constexpr auto card_late = " (a session runs past it: lamp)";
inline constexpr auto card_kit = "Kit, {}";
inline constexpr auto card_wire = ", wire along {:.0f}&#176;";
inline constexpr auto card_battery = "Battery";
inline constexpr auto card_lasts = "{}: lasts {:.1f} h of {:.1f} h wanted a day";
inline constexpr auto card_no_battery = "none carried: power from the site";
inline constexpr auto card_mind = "Mind";
inline constexpr auto card_key =
    "Days in ten on which both directions work, monthly median sky; {:g} or more (before rounding) boxed and "
    "bold, '~' fewer, '-' under half a day, '.' closed; 'L' by the long way round. Hour 14 stands for 13:30 to "
    "14:30. Hours of your sessions are boxed in the clock rows and grey in the table. The letter after a band "
    "is what to put up. Sun: &#9675; day, &#9680; grey line, &#9679; night. \"There\" goes by the clock of most "
    "people of the region. Regions by their open hours on the air times days and weight, at most {} "
    "bands each.{}";
inline constexpr auto card_sites = " The first two sites.";

// The chart round the site.
inline constexpr auto chart =
    "World map centred on {}: straight lines from the centre are true bearings and distances";
inline constexpr auto way_title = "{}: {:.0f} deg, {:.0f} km";

// The side view.
inline constexpr auto hops = "{} off the {} layer at {:.0f} km, leaving {:.1f} degrees above the horizon";
inline constexpr auto hops_closed = "closed: the layers, and no ray";
inline constexpr auto mirror = "{} mirror at {:.0f} km";
inline constexpr auto f2_about = "F2 layer, about 300 km";
inline constexpr auto layers = "dots: D layer 75 km; short dashes: E layer 110 km{}";
inline constexpr auto layers_f2 = "; long dashes: F2";

// Small plots.
inline constexpr auto pattern =
    "Gain against elevation on {}: {} to {} degrees are needed most, where the best bearing has {:.0f} dBi";
inline constexpr auto pattern_axis = "gain in dBi over elevation";
inline constexpr auto frontier =
    "Reach against mass: the chosen kit has {} and reaches {}; everything together would have {} and reach {}";
inline constexpr auto frontier_axis = "mass carried, kg";

// Pictures as files: titles, lines below them, keys.
inline constexpr auto median_sky = "{} to {}, R12 {:.0f}, medians of the month";
inline constexpr auto horizon_title = "What stands around {}";
inline constexpr auto horizon_below =
    "Ground {:.0f} m above the sea, seen from {:g} m above it, {:g} km far; degrees above the level.";
inline constexpr auto horizon_key =
    "Grey: ground that stands above the level, out of elevation files that know no trees or houses. Blue outside the rim: "
    "the sea begins that way within 20 km. A bar: the angles at which a region's openings leave; the dot: the usual one.";
inline constexpr auto chart_title = "Bearings and distances from {}";
inline constexpr auto chart_below = "Night as on {} at {:02} UTC";
inline constexpr auto chart_key =
    "Azimuthal equidistant: straight lines from the centre are true bearings, rings are 2500 km apart. Full "
    "lines: the short way round; dotted: the long way. Shaded, with a dashed edge: night.";
inline constexpr auto chart_region = "{} {}: {:.0f}\u00B0, {:.0f} km";
inline constexpr auto days_both_ways = "days in ten, both ways";
inline constexpr auto strip_title = "{} to {}";
inline constexpr auto strip_below = "Bearing {:.0f}\u00B0, {:.0f} km; {}";
inline constexpr auto strip_key =
    "Numbers: on how many days of ten both directions work with the packed kit; bold from {:g} on. '-': "
    "under half a day, '.': closed. Framed: hours of your sessions. \u25CB daylight, \u25D0 grey line, "
    "\u25CF night. Local time here: {}; there, of most people: {}.";
inline constexpr auto hops_title = "{} to {} on {} at {:02} UTC";
inline constexpr auto hops_below = "{}, {} both ways; {:.0f} km{}";
inline constexpr auto hops_below_closed = "closed at all hours with this kit; {:.0f} km";
inline constexpr auto long_way_round = ", the long way round";
inline constexpr auto hops_key =
    "Heights, distances and angles are to one scale. Rays are drawn as straight lines to the height of "
    "mirror reflection that the method gives; real rays bend gradually.{}{}";
inline constexpr auto hops_skip = " Ticked ground: skip zone, nothing comes down nearer than {:.0f} km.";
inline constexpr auto hops_long = " Over so long a way the method names no single ray: equal hops are drawn.";
inline constexpr auto pattern_below = "Gain in dBi against elevation in degrees, losses included";
inline constexpr auto pattern_key =
    "Thick line: best of all bearings; thin line: their mean{}. Bars: the angles at which the open hours "
    "arrive, the taller the more often.";
inline constexpr auto frontier_title = "Reach against mass: {}";
inline constexpr auto frontier_below = "Share of what is wanted that works, against kilograms";
inline constexpr auto frontier_key =
    "Each dot is the best kit of its mass; ring: the chosen one; dashed upright line: the limit; diamond: "
    "everything owned.";

// Pictures for a lesson.
inline constexpr auto hop_table_title = "How far one hop reaches";
inline constexpr auto hop_table_below =
    "Angle at which the wave leaves, degrees above the horizon, against the ground length of the hop";
inline constexpr auto hop_table_axis = "length of one hop, km";
inline constexpr auto hop_table_key =
    "Full line: F2 layer, a mirror at {:.0f} km, at most {:.0f} km. Dashes: E layer at {:.0f} km, at most {:.0f} km.";
inline constexpr auto contrast_key =
    "Days in ten on which a contact works both ways by the sky; '-': under half a day, '.': closed. Hour 14 "
    "stands for 13:30 to 14:30.";

// The world map.
inline constexpr auto world = "World coverage";
inline constexpr auto world_from = "World coverage from {}";
inline constexpr auto world_stations =
    "{}, R12 {:.0f}, {}: {:g} W and {} at the site ({} noise), {:g} W and {} at the far end ({} "
    "noise), {} way round";
inline constexpr auto world_sky = "Monthly median sky, grid of {:g} degrees; {}";
inline constexpr auto world_panel = "{} {:02}:00 UTC";
inline constexpr auto fewer = "fewer or closed";
inline constexpr auto site = "site";
inline constexpr auto night = "night";

}  // namespace skerry::words::caption
