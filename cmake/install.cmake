# What is installed: the program with its manual pages and completions, and the rooms as a library for others.
include(CMakePackageConfigHelpers)

# Made by the program from its own commands, so that they cannot say anything else.
set(papers ${CMAKE_BINARY_DIR}/papers)
add_custom_command(
  OUTPUT ${papers}/done
  COMMAND ${CMAKE_COMMAND} -DSKERRY=$<TARGET_FILE:skerry> -DOUT=${papers} -P ${CMAKE_SOURCE_DIR}/cmake/papers.cmake
  DEPENDS skerry ${CMAKE_SOURCE_DIR}/cmake/papers.cmake
  COMMENT "Manual pages and completions")
add_custom_target(papers ALL DEPENDS ${papers}/done)

install(TARGETS skerry RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
install(DIRECTORY ${papers}/man1 ${papers}/man5 DESTINATION ${CMAKE_INSTALL_MANDIR} COMPONENT program FILES_MATCHING PATTERN "*.gz")
install(FILES ${papers}/skerry.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME skerry
        COMPONENT program)
install(FILES ${papers}/_skerry DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT program)
install(FILES ${papers}/skerry.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT program)
install(FILES README.md CHANGELOG.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
# What Debian's policy asks of each package: whose it is, and what changed.
set(SKERRY_RELEASED "Fri, 27 Nov 2026 12:00:00 +0000")  # with project(VERSION) and CHANGELOG.md
configure_file(cmake/debian/changelog.in ${papers}/changelog @ONLY)
foreach(component program development)
  if(component STREQUAL program)
    set(folder ${CMAKE_INSTALL_DOCDIR})
  else()
    set(folder ${CMAKE_INSTALL_DATAROOTDIR}/doc/libskerry-dev)
  endif()
  install(FILES cmake/debian/copyright DESTINATION ${folder} COMPONENT ${component})
  install(FILES ${papers}/changelog.gz DESTINATION ${folder} COMPONENT ${component})
endforeach()
install(DIRECTORY docs/ DESTINATION ${CMAKE_INSTALL_DOCDIR}/docs COMPONENT program
        FILES_MATCHING PATTERN "*.md" PATTERN "*.json" PATTERN "*.png")
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program PATTERN "rooms" EXCLUDE)
install(DIRECTORY examples/rooms DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/doc/libskerry-dev/examples COMPONENT development)

foreach(room IN LISTS SKERRY_ROOMS)
  set_target_properties(skerry_${room} PROPERTIES EXPORT_NAME ${room})
  install(TARGETS skerry_${room} EXPORT skerry ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT development)
endforeach()
install(DIRECTORY include/skerry DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)
install(EXPORT skerry NAMESPACE skerry:: FILE skerryTargets.cmake DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/skerry
        COMPONENT development)
configure_package_config_file(cmake/skerryConfig.cmake.in ${CMAKE_BINARY_DIR}/skerryConfig.cmake
                              INSTALL_DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/skerry)
# Before 1.0 a change of the minor number may break what uses the library.
write_basic_package_version_file(${CMAKE_BINARY_DIR}/skerryConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_BINARY_DIR}/skerryConfig.cmake ${CMAKE_BINARY_DIR}/skerryConfigVersion.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/skerry COMPONENT development)

# For those who build without CMake. The folder in it is where `cmake --install` puts things, whatever was configured.
list(TRANSFORM SKERRY_ROOMS PREPEND -lskerry_ OUTPUT_VARIABLE skerry_libraries)
list(REVERSE skerry_libraries)
list(JOIN skerry_libraries " " skerry_libraries)
# From lib/x86_64-linux-gnu/pkgconfig as from lib/pkgconfig.
file(RELATIVE_PATH skerry_pc_up /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
configure_file(cmake/skerry.pc.in ${CMAKE_BINARY_DIR}/skerry.pc @ONLY)
install(FILES ${CMAKE_BINARY_DIR}/skerry.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT development)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME skerry)
set(CPACK_PACKAGE_CONTACT "the Skerry maintainers <maintainers@skerry.invalid>")
set(CPACK_PACKAGE_VENDOR "")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME skerry)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION hamradio)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libskerry-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
    "libgeographiclib-dev, libeigen3-dev, libboost-dev, libcli11-dev, libtomlplusplus-dev, nlohmann-json3-dev, libfmt-dev, libexpected-dev, libtiff-dev")
# The project's own line stands before each.
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
"From a site, dates and regions: which bands open at which hours, how strong
one is with each antenna, and so which antennas, masts and batteries to carry.
The program, its manual pages, completions and examples.")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
"The rooms of the program as static libraries, with their headers and files for
CMake (find_package) and pkg-config.")
include(CPack)
