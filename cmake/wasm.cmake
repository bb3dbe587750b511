# The libraries of the WebAssembly build: headers of Debian's packages through a folder of links, so that no other header of the
# system is seen, and GeographicLib's geodesic from its source (SKERRY_GEOGRAPHIC: the folder with Geodesic.cpp, see ./dev page).
set(SKERRY_GEOGRAPHIC "" CACHE PATH "Folder of GeographicLib's source files, for the WebAssembly build")
set(links ${CMAKE_BINARY_DIR}/links)
file(MAKE_DIRECTORY ${links})
foreach(name boost fmt toml++ nlohmann tl GeographicLib eigen3/Eigen)
  find_path(SKERRY_HEADERS_${name} ${name} PATHS /usr/include /usr/local/include NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH REQUIRED)
  get_filename_component(link ${name} NAME)
  file(CREATE_LINK ${SKERRY_HEADERS_${name}}/${name} ${links}/${link} SYMBOLIC)
endforeach()
foreach(library tl::expected fmt::fmt tomlplusplus::tomlplusplus nlohmann_json::nlohmann_json Boost::headers Eigen3::Eigen
                Threads::Threads PkgConfig::GEO)
  add_library(${library} INTERFACE IMPORTED)
  target_include_directories(${library} SYSTEM INTERFACE ${links})
endforeach()
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)
target_compile_definitions(tomlplusplus::tomlplusplus INTERFACE TOML_HEADER_ONLY=1)

add_library(geographic STATIC ${SKERRY_GEOGRAPHIC}/Geodesic.cpp ${SKERRY_GEOGRAPHIC}/GeodesicLine.cpp ${SKERRY_GEOGRAPHIC}/Math.cpp)
target_include_directories(geographic SYSTEM PRIVATE ${links})
target_compile_options(geographic PRIVATE -ffp-contract=off)
target_link_libraries(PkgConfig::GEO INTERFACE geographic)

# Exceptions by WebAssembly's own instructions: smaller and faster than by JavaScript.
add_compile_options(-fwasm-exceptions)
add_link_options(-fwasm-exceptions)

# The module, and below page/ what a page carries of it: worker.js, and engine.b64 (gzip, base64).
function(skerry_module)
  add_executable(skerry_wasm src/wasm/bridge.cpp)
  skerry_enter(skerry_wasm PRIVATE engine)
  skerry_compile_rules(skerry_wasm)
  target_link_options(skerry_wasm PRIVATE -sMODULARIZE=1 -sEXPORT_NAME=skerryModule -sALLOW_MEMORY_GROWTH=1 -sTOTAL_STACK=4194304
    -sFILESYSTEM=0 -sENVIRONMENT=web,worker,node -sEXPORTED_FUNCTIONS=_skerry_answer,_malloc,_free
    -sEXPORTED_RUNTIME_METHODS=UTF8ToString,stringToUTF8,lengthBytesUTF8)
  set(page ${CMAKE_BINARY_DIR}/page)
  file(MAKE_DIRECTORY ${page})
  set(scripts ${CMAKE_SOURCE_DIR}/src/wasm/ask.js ${CMAKE_SOURCE_DIR}/src/wasm/worker.js)
  add_custom_command(OUTPUT ${page}/engine.b64 ${page}/worker.js
    COMMAND sh -c "gzip -9n < skerry_wasm.wasm | base64 -w 0 > page/engine.b64"
    COMMAND ${CMAKE_COMMAND} -E cat skerry_wasm.js ${scripts} > page/worker.js
    DEPENDS skerry_wasm ${scripts} VERBATIM)
  add_custom_target(skerry_carried ALL DEPENDS ${page}/engine.b64)
endfunction()

# Each room is compiled as one file, in a third of the time. These have private names that a neighbour has too.
set(by_themselves geodesy/locator ionosphere/sporadic_e files/fields_of_things advice/bag_limits advice/nothing_works advice/remedies
    advice/remedy_changes advice/sessions after/spots_read words/card words/contrast_text words/kit_text words/library_text
    words/remedies_text words/pack_text forms/ics page/club page/svg_plots page/map_svg)
list(TRANSFORM by_themselves PREPEND src/)
list(TRANSFORM by_themselves APPEND .cpp)
set_source_files_properties(${by_themselves} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
