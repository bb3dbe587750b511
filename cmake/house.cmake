# How a room is built: one static library, warnings on, and the layering kept by the compiler's own include paths.
# A room sees the headers of core and of the rooms it SEES, and of no other: each room's public
# headers live behind an include directory of their own.

set(SKERRY_WARNINGS -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion
                    -Wnon-virtual-dtor -Wold-style-cast -Woverloaded-virtual)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # False alarms on std::string concatenation and temporaries (GCC bugs 105651, 105562) and inside Boost.Geometry.
  list(APPEND SKERRY_WARNINGS -Wno-restrict -Wno-maybe-uninitialized -Wno-stringop-overflow)
endif()

if(CMAKE_UNITY_BUILD)
  list(APPEND SKERRY_WARNINGS -Wno-shadow)  # of names that stand in different files
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    list(APPEND SKERRY_WARNINGS -Wno-subobject-linkage)  # it takes a room's own file for a header
  endif()
endif()

function(skerry_compile_rules target)
  # -ffp-contract=off: the same rounding on every machine, so the same input gives the same bytes.
  target_compile_options(${target} PRIVATE $<$<COMPILE_LANGUAGE:CXX>:${SKERRY_WARNINGS};-ffp-contract=off>
                         $<$<BOOL:${SKERRY_WERROR}>:-Werror>)
  if(SKERRY_ARCH)
    target_compile_options(${target} PRIVATE -march=${SKERRY_ARCH})
  endif()
  # toml++ asserts on some malformed bytes in builds without NDEBUG; its ordinary error path is wanted in all builds.
  # CMake cannot pass a macro with arguments, so a header says it.
  target_compile_options(${target} PRIVATE $<$<COMPILE_LANGUAGE:CXX>:SHELL:-include ${CMAKE_SOURCE_DIR}/cmake/toml_assert.hpp>)
endfunction()

if(WIN32)
  set(SKERRY_SYSTEM windows)
else()
  set(SKERRY_SYSTEM posix)
endif()

set(SKERRY_DOORS ${CMAKE_BINARY_DIR}/doors)
set(SKERRY_ROOMS "")
# A line "room: seen seen ..." for each, for those who look at the walls (tests/house, dev).
file(WRITE ${SKERRY_DOORS}/rooms.txt "")

# skerry_room(<name> SEES <rooms> LINK PUBLIC ... PRIVATE ...)
# SEES is the whole list, nothing comes through a room that is seen: what a seen room's public headers include is listed too.
# core is seen by all. Rooms are declared after those they see.
function(skerry_room name)
  cmake_parse_arguments(ROOM "" "" "SEES;LINK" ${ARGN})
  if(NOT name STREQUAL core)
    list(PREPEND ROOM_SEES core)
  endif()
  # What differs by system stands in a folder of its own.
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/src/${name}/*.cpp
       ${CMAKE_SOURCE_DIR}/src/${name}/${SKERRY_SYSTEM}/*.cpp)
  file(GLOB headers CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/include/skerry/${name}/*.hpp)
  # A link farm holding only this room's folder, so that "skerry/<room>/x.hpp" resolves for
  # the room itself and for those that see it, and for nobody else.
  set(door ${SKERRY_DOORS}/${name})
  file(MAKE_DIRECTORY ${door}/skerry)
  file(CREATE_LINK ${CMAKE_SOURCE_DIR}/include/skerry/${name} ${door}/skerry/${name} SYMBOLIC)
  add_library(skerry_${name} STATIC ${sources} ${headers})
  set_target_properties(skerry_${name} PROPERTIES FOLDER rooms SKERRY_SEES "${ROOM_SEES}")
  target_include_directories(skerry_${name} PUBLIC $<BUILD_INTERFACE:${door}> $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}>
                             PRIVATE ${CMAKE_SOURCE_DIR}/src/${name})
  foreach(seen IN LISTS ROOM_SEES)
    # PRIVATE hands on what is to be linked, not what may be included. Those who use the installed library get both.
    target_link_libraries(skerry_${name} PRIVATE skerry_${seen} INTERFACE $<INSTALL_INTERFACE:skerry::${seen}>)
  endforeach()
  if(ROOM_LINK)
    target_link_libraries(skerry_${name} ${ROOM_LINK})
  endif()
  skerry_compile_rules(skerry_${name})
  target_compile_features(skerry_${name} PUBLIC cxx_std_20)
  list(JOIN ROOM_SEES " " seen)
  file(APPEND ${SKERRY_DOORS}/rooms.txt "${name}: ${seen}\n")
  set(SKERRY_ROOMS ${SKERRY_ROOMS} ${name} PARENT_SCOPE)
endfunction()

# skerry_enter(<target> PUBLIC|PRIVATE <room>...): a program that may include what these rooms offer and see.
function(skerry_enter target scope)
  foreach(room ${ARGN})
    get_target_property(seen skerry_${room} SKERRY_SEES)
    list(TRANSFORM seen PREPEND skerry_)
    target_link_libraries(${target} ${scope} skerry_${room} ${seen})
  endforeach()
endfunction()

# Puts every file below data/ that the program reads, the report's page below src/page/assets/ and the
# schemas below docs/schemas/ into the library, byte for byte, through the assembler's .incbin: nothing is looked for at run time and nothing is parsed
# before it is asked for.
function(skerry_embed_data target)
  file(GLOB_RECURSE files CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR}/data
       ${CMAKE_SOURCE_DIR}/data/*.bin ${CMAKE_SOURCE_DIR}/data/*.toml ${CMAKE_SOURCE_DIR}/data/*.geojson)
  list(SORT files)
  list(TRANSFORM files PREPEND data/)
  file(GLOB assets CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/src/page/assets/*)
  file(GLOB schemas CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/docs/schemas/*.json)
  # What goes into the page's two blocks, which are joined with their hashes.
  set(pieces ${assets})
  list(FILTER pieces INCLUDE REGEX "\\.(css|js)$")
  list(FILTER pieces EXCLUDE REGEX "/hosted_")
  list(TRANSFORM pieces PREPEND ${CMAKE_SOURCE_DIR}/)
  list(FILTER assets EXCLUDE REGEX "/(page_.*\\.js|(page|report|days)\\.css)$")
  set(blocks style style_hash script script_hash)
  list(TRANSFORM blocks PREPEND ${CMAKE_BINARY_DIR}/page/blocks/)
  add_custom_command(OUTPUT ${blocks}
    COMMAND python3 ${CMAKE_SOURCE_DIR}/cmake/page_blocks.py ${CMAKE_SOURCE_DIR}/src/page/assets ${CMAKE_BINARY_DIR}/page/blocks
    DEPENDS ${CMAKE_SOURCE_DIR}/cmake/page_blocks.py ${pieces} VERBATIM)
  list(APPEND files ${assets} ${blocks})
  if(EMSCRIPTEN)
    # Some by columns, as they are sent to a page packed.
    list(FILTER files EXCLUDE REGEX "/hosted_")  # only who writes a folder wants these
    set(columns ${CMAKE_BINARY_DIR}/columns)
    set(rows_of 4 4 4 4 18)
    set(by_columns ccir/ccir ursi/ursi foes/foes igrf/igrf zones/tables)
    list(TRANSFORM by_columns APPEND .bin)
    set(plain places/names.bin places/places.bin ${by_columns})
    list(TRANSFORM plain PREPEND data/)
    list(REMOVE_ITEM files ${plain})
    set(made places/columns.bin ${by_columns})
    list(TRANSFORM made PREPEND ${columns}/)
    list(TRANSFORM plain PREPEND ${CMAKE_SOURCE_DIR}/)
    add_custom_command(OUTPUT ${made} COMMAND python3 ${CMAKE_SOURCE_DIR}/cmake/columns.py ${CMAKE_SOURCE_DIR}/data ${columns}
                       DEPENDS ${CMAKE_SOURCE_DIR}/cmake/columns.py ${plain} VERBATIM)
    list(APPEND files ${made})
  else()
    list(APPEND files ${schemas})  # only the command line prints them
  endif()
  # The engine for the page, where it has been built.
  if(SKERRY_MODULE)
    list(APPEND files ${SKERRY_MODULE}/engine.txt ${SKERRY_MODULE}/worker.js)
  endif()
  set(blob ${CMAKE_BINARY_DIR}/embedded_blobs.S)
  set(index ${CMAKE_BINARY_DIR}/embedded_index.cpp)
  # In WebAssembly every piece of data is a section of its own and says its size.
  set(asm "#define JOIN_(a, b) a##b
#define JOIN(a, b) JOIN_(a, b)
#define SYM(x) JOIN(__USER_LABEL_PREFIX__, x)
#define SECTION(x)
#define SIZE(x)
#if defined(__APPLE__)
.const_data
#elif defined(_WIN32)
.section .rdata,\"dr\"
#elif defined(__wasm__)
#undef SECTION
#undef SIZE
#define SECTION(x) .section .rodata.x,\"\",@
#define SIZE(x) .size x, .-x
#else
.section .rodata
#endif
")
  set(decl "")
  set(rows "")
  set(n 0)
  set(deps "")
  foreach(file IN LISTS files)
    get_filename_component(path ${file} ABSOLUTE BASE_DIR ${CMAKE_SOURCE_DIR})
    string(APPEND asm "SECTION(skerry_blob_${n})\n.balign 16\n.globl SYM(skerry_blob_${n})\n.globl SYM(skerry_blob_${n}_end)\n"
           "SYM(skerry_blob_${n}):\n.incbin \"${path}\"\nSYM(skerry_blob_${n}_end):\n.byte 0\n"
           "SIZE(skerry_blob_${n}_end)\nSIZE(skerry_blob_${n})\n")
    string(APPEND decl "extern const char skerry_blob_${n}[]; extern const char skerry_blob_${n}_end[];\n")
    # "data/bands/bands.toml" is asked for as "bands/bands.toml", "src/page/assets/report.css" as "assets/report.css".
    string(REGEX REPLACE "^(data|src/page|docs|.*/page)/" "" name ${file})
    set(row 1)
    if(EMSCRIPTEN AND file MATCHES "^${columns}/(.*)")
      set(name ${CMAKE_MATCH_1})
      list(FIND by_columns ${name} at)
      if(at GREATER_EQUAL 0)
        list(GET rows_of ${at} row)
      endif()
    endif()
    string(APPEND rows "  {\"${name}\", skerry_blob_${n}, skerry_blob_${n}_end, ${row}},\n")
    list(APPEND deps ${path})
    math(EXPR n "${n}+1")
  endforeach()
  string(APPEND asm "#if defined(__linux__) && defined(__ELF__)\n.section .note.GNU-stack,\"\",%progbits\n#endif\n")
  file(CONFIGURE OUTPUT ${blob} CONTENT "@asm@" @ONLY)
  file(CONFIGURE OUTPUT ${index} CONTENT
"// Made by cmake/house.cmake from the contents of data/ and src/page/assets/.
#include \"skerry/core/embedded.hpp\"
extern \"C\" {
@decl@}
namespace skerry::detail {
const EmbeddedEntry embedded_entries[] = {
@rows@  {nullptr, nullptr, nullptr, 0}};
}
" @ONLY)
  set_source_files_properties(${blob} PROPERTIES OBJECT_DEPENDS "${deps}")
  target_sources(${target} PRIVATE ${blob} ${index})
endfunction()
