# Runs the program for each of its manual pages and completions: cmake -DSKERRY=program -DOUT=folder -P papers.cmake
function(ask file)
  execute_process(COMMAND ${SKERRY} --no-config ${ARGN} -o ${OUT}/${file} COMMAND_ERROR_IS_FATAL ANY)
endfunction()

file(MAKE_DIRECTORY ${OUT}/man1 ${OUT}/man5)
ask(man1/skerry.1 manual)
ask(man5/skerry-trip.5 manual trip)
ask(skerry.bash completion bash)
ask(_skerry completion zsh)
ask(skerry.fish completion fish)
# The program itself says which commands there are.
file(STRINGS ${OUT}/skerry.fish lines REGEX "__fish_use_subcommand.* -f -a [a-z]+ -d ")
foreach(line IN LISTS lines)
  string(REGEX REPLACE ".* -a ([a-z]+) -d .*" "\\1" command "${line}")
  if(NOT command STREQUAL "help")
    ask(man1/skerry-${command}.1 manual ${command})
  endif()
endforeach()
# Beside them as packages want them. No time of day in it: the same bytes each time.
file(GLOB plain ${OUT}/man1/*.1 ${OUT}/man5/*.5 ${OUT}/changelog)
execute_process(COMMAND gzip -9nkf ${plain} COMMAND_ERROR_IS_FATAL ANY)
file(TOUCH ${OUT}/done)
