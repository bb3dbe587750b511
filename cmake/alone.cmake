# Libraries for a program that asks nothing of the machine it runs on (WebAssembly, Windows, a static one): headers of Debian's
# packages through a folder of links, so that no other header of the system is seen, and GeographicLib's geodesic from its source.
set(SKERRY_GEOGRAPHIC "" CACHE PATH "Folder with GeographicLib's Geodesic.cpp, GeodesicLine.cpp and Math.cpp (see fetch_geographic in ./dev)")
set(links ${CMAKE_BINARY_DIR}/links)
file(MAKE_DIRECTORY ${links})
foreach(name boost fmt toml++ nlohmann tl CLI GeographicLib eigen3/Eigen)
  find_path(SKERRY_HEADERS_${name} ${name} PATHS /usr/include /usr/local/include NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH REQUIRED)
  get_filename_component(link ${name} NAME)
  file(CREATE_LINK ${SKERRY_HEADERS_${name}}/${name} ${links}/${link} SYMBOLIC)
endforeach()
foreach(library tl::expected fmt::fmt tomlplusplus::tomlplusplus nlohmann_json::nlohmann_json CLI11::CLI11 Boost::headers
                Eigen3::Eigen PkgConfig::GEO)
  add_library(${library} INTERFACE IMPORTED)
  target_include_directories(${library} SYSTEM INTERFACE ${links})
endforeach()
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)
target_compile_definitions(tomlplusplus::tomlplusplus INTERFACE TOML_HEADER_ONLY=1)

add_library(geographic STATIC ${SKERRY_GEOGRAPHIC}/Geodesic.cpp ${SKERRY_GEOGRAPHIC}/GeodesicLine.cpp ${SKERRY_GEOGRAPHIC}/Math.cpp)
target_include_directories(geographic SYSTEM PRIVATE ${links})
target_compile_options(geographic PRIVATE -ffp-contract=off)
target_link_libraries(PkgConfig::GEO INTERFACE geographic)

# Each room is compiled as one file, in a third of the time. These have private names that a neighbour has too.
set(by_themselves geodesy/locator ionosphere/sporadic_e files/fields_of_things advice/bag_limits advice/nothing_works advice/remedies
    advice/remedy_changes advice/sessions after/spots_read words/card words/contrast_text words/kit_text words/library_text
    words/remedies_text words/pack_text forms/ics page/club page/svg_plots page/map_svg)
list(TRANSFORM by_themselves PREPEND src/)
list(TRANSFORM by_themselves APPEND .cpp)
set_source_files_properties(${by_themselves} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
