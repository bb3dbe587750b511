# Where CMAKE_UNITY_BUILD is on, each room is compiled as one file, in a third of the time. These have private names that a neighbour has too.
set(by_themselves geodesy/locator ionosphere/sporadic_e files/fields_of_things advice/bag_limits advice/nothing_works advice/remedies
    advice/remedy_changes advice/sessions after/spots_read words/card words/contrast_text words/kit_text words/library_text
    words/horizon_text words/where_text files/terrain page/horizon_svg page/where_svg
    words/remedies_text words/pack_text forms/ics page/club page/svg_plots page/map_svg)
list(TRANSFORM by_themselves PREPEND src/)
list(TRANSFORM by_themselves APPEND .cpp)
set_source_files_properties(${by_themselves} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
