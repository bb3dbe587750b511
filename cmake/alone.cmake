# The libraries without their shared objects: headers of Debian's packages through a folder of links, so that no other header of the
# system is seen, and GeographicLib's geodesic from its source (SKERRY_GEOGRAPHIC: the folder with Geodesic.cpp, see ./dev page).
set(SKERRY_GEOGRAPHIC "" CACHE PATH "Folder of GeographicLib's source files, for what stands alone")
set(links ${CMAKE_BINARY_DIR}/links)
file(MAKE_DIRECTORY ${links})
foreach(name boost fmt toml++ nlohmann tl CLI GeographicLib eigen3/Eigen)
  find_path(SKERRY_HEADERS_${name} ${name} PATHS /usr/include /usr/local/include NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH REQUIRED)
  get_filename_component(link ${name} NAME)
  file(CREATE_LINK ${SKERRY_HEADERS_${name}}/${name} ${links}/${link} SYMBOLIC)
endforeach()
foreach(library tl::expected fmt::fmt tomlplusplus::tomlplusplus nlohmann_json::nlohmann_json CLI11::CLI11 Boost::headers
                Eigen3::Eigen)
  add_library(${library} INTERFACE IMPORTED)
  target_include_directories(${library} SYSTEM INTERFACE ${links})
endforeach()
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)
target_compile_definitions(tomlplusplus::tomlplusplus INTERFACE TOML_HEADER_ONLY=1)

add_library(geographic STATIC ${SKERRY_GEOGRAPHIC}/Geodesic.cpp ${SKERRY_GEOGRAPHIC}/GeodesicLine.cpp ${SKERRY_GEOGRAPHIC}/Math.cpp)
target_include_directories(geographic SYSTEM PRIVATE ${links})
target_compile_options(geographic PRIVATE -ffp-contract=off)
add_library(PkgConfig::GEO INTERFACE IMPORTED)
target_include_directories(PkgConfig::GEO SYSTEM INTERFACE ${links})
target_link_libraries(PkgConfig::GEO INTERFACE geographic)
