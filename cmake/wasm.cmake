# The WebAssembly build: one thread, no file system.
include(cmake/alone.cmake)
add_library(Threads::Threads INTERFACE IMPORTED)

# Exceptions by WebAssembly's own instructions: smaller and faster than by JavaScript.
add_compile_options(-fwasm-exceptions)
add_link_options(-fwasm-exceptions)

# The module, and below page/ what a page carries of it: worker.js, and engine.txt (cmake/pack_module.py).
function(skerry_module)
  # Rooms that only read and write text: what they would gain by speed is less than what their size costs on the way.
  foreach(room files words forms engine)
    target_compile_options(skerry_${room} PRIVATE -Os)
  endforeach()
  add_executable(skerry_wasm src/wasm/bridge.cpp)
  skerry_enter(skerry_wasm PRIVATE engine)
  skerry_compile_rules(skerry_wasm)
  target_link_options(skerry_wasm PRIVATE -sMODULARIZE=1 -sEXPORT_NAME=skerryModule -sALLOW_MEMORY_GROWTH=1 -sTOTAL_STACK=4194304
    -sFILESYSTEM=0 -sENVIRONMENT=web,worker,node -sEXPORTED_FUNCTIONS=_skerry_answer,_malloc,_free
    -sEXPORTED_RUNTIME_METHODS=UTF8ToString,stringToUTF8,lengthBytesUTF8)
  set(page ${CMAKE_BINARY_DIR}/page)
  file(MAKE_DIRECTORY ${page})
  set(scripts ${CMAKE_SOURCE_DIR}/src/wasm/unpack.js ${CMAKE_SOURCE_DIR}/src/wasm/ask.js
      ${CMAKE_SOURCE_DIR}/src/wasm/worker.js)
  add_custom_command(OUTPUT ${page}/engine.txt ${page}/worker.js
    COMMAND python3 ${CMAKE_SOURCE_DIR}/cmake/pack_module.py skerry_wasm.wasm page/engine.txt
    COMMAND ${CMAKE_COMMAND} -E cat skerry_wasm.js ${scripts} > page/worker.js
    DEPENDS skerry_wasm ${scripts} ${CMAKE_SOURCE_DIR}/cmake/pack_module.py VERBATIM)
  add_custom_target(skerry_carried ALL DEPENDS ${page}/engine.txt)
endfunction()
