# The Python module `_skerry`, and beside it, in ${CMAKE_BINARY_DIR}/python/skerry, the package as it is installed.
find_package(Python 3.10 REQUIRED COMPONENTS Interpreter Development.Module)
execute_process(COMMAND ${Python_EXECUTABLE} -m nanobind --cmake_dir OUTPUT_STRIP_TRAILING_WHITESPACE OUTPUT_VARIABLE nanobind_ROOT
                COMMAND_ERROR_IS_FATAL ANY)
find_package(nanobind CONFIG REQUIRED)
nanobind_add_module(skerry_python NB_STATIC src/python/bridge.cpp)
skerry_enter(skerry_python PRIVATE engine cli)
skerry_compile_rules(skerry_python)
target_include_directories(skerry_python SYSTEM PRIVATE ${NB_DIR}/include ${Python_INCLUDE_DIRS})
target_compile_definitions(skerry_python PRIVATE SKERRY_VERSION="${PROJECT_VERSION}")
set(package ${CMAKE_BINARY_DIR}/python/skerry)
set_target_properties(skerry_python PROPERTIES OUTPUT_NAME _skerry LIBRARY_OUTPUT_DIRECTORY ${package})

# What the answers look like, for those who check types: made from the schemas.
file(GLOB schemas CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/docs/schemas/*.json)
add_custom_command(OUTPUT ${package}/answers.py
  COMMAND ${Python_EXECUTABLE} ${CMAKE_SOURCE_DIR}/src/python/answers.py ${CMAKE_SOURCE_DIR}/docs/schemas ${package}/answers.py
  DEPENDS ${CMAKE_SOURCE_DIR}/src/python/answers.py ${schemas} VERBATIM)
add_custom_target(skerry_answers ALL DEPENDS ${package}/answers.py)
add_dependencies(skerry_python skerry_answers)
file(MAKE_DIRECTORY ${package})
foreach(file __init__.py __main__.py _skerry.pyi _toml.py py.typed)
  file(CREATE_LINK ${CMAKE_SOURCE_DIR}/src/python/skerry/${file} ${package}/${file} SYMBOLIC)
endforeach()

# The wheel alone asks for them.
install(TARGETS skerry_python LIBRARY DESTINATION skerry COMPONENT python EXCLUDE_FROM_ALL)
install(FILES ${package}/answers.py DESTINATION skerry COMPONENT python EXCLUDE_FROM_ALL)
