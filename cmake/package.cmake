# SPDX-License-Identifier: MIT
# What is installed, in three components:
#   program      bin/hollowtop, its manual page, completion for three shells, documents and examples
#   static       the same program without need of any library of the system (left out unless asked for by name)
#   development  the library `hollowtop::solver` for other projects: find_package(hollowtop)
# With HOLLOWTOP_LEVEL the program is installed as libexec/hollowtop/hollowtop-vLEVEL, and level 2 brings the starter as
# bin/hollowtop: cli/package.sh puts the levels together.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

file(STRINGS solver/piece/version.hpp version_line REGEX "program_version")
if(NOT version_line MATCHES "\"${PROJECT_VERSION}\"")
  message(FATAL_ERROR "solver/piece/version.hpp and project(VERSION) differ")
endif()

# The program without need of any library of the system.
add_executable(hollowtop_static EXCLUDE_FROM_ALL cli/main.cpp)
target_link_libraries(hollowtop_static PRIVATE hollowtop_cli)
target_link_options(hollowtop_static PRIVATE -static -s)

add_executable(hollowtop_starter EXCLUDE_FROM_ALL packaging/starter.cpp)
set_target_properties(hollowtop_starter PROPERTIES OUTPUT_NAME starter)
target_compile_options(hollowtop_starter PRIVATE -march=x86-64)
target_link_options(hollowtop_starter PRIVATE -static -s)
if(HOLLOWTOP_LEVEL)
  target_link_options(hollowtop PRIVATE -s)
endif()

# The manual page and the completions, made by the program from its own table of commands.
set(pages ${PROJECT_BINARY_DIR}/pages)
file(MAKE_DIRECTORY ${pages})
add_custom_command(
  OUTPUT ${pages}/hollowtop.1 ${pages}/hollowtop.bash ${pages}/_hollowtop ${pages}/hollowtop.fish
  COMMAND hollowtop manual --out ${pages}/hollowtop.1
  COMMAND hollowtop completion bash --out ${pages}/hollowtop.bash
  COMMAND hollowtop completion zsh --out ${pages}/_hollowtop
  COMMAND hollowtop completion fish --out ${pages}/hollowtop.fish
  DEPENDS hollowtop
  COMMENT "Writing the manual page and the completions" VERBATIM)
if(HOLLOWTOP_LEVEL GREATER 2)
  add_custom_target(hollowtop_pages DEPENDS ${pages}/hollowtop.1)
else()
  add_custom_target(hollowtop_pages ALL DEPENDS ${pages}/hollowtop.1)
endif()

if(HOLLOWTOP_LEVEL)
  set(levels libexec/hollowtop) # where packaging/starter.cpp looks
  install(PROGRAMS $<TARGET_FILE:hollowtop> DESTINATION ${levels} RENAME hollowtop-v${HOLLOWTOP_LEVEL} COMPONENT program)
  install(PROGRAMS $<TARGET_FILE:hollowtop_static> DESTINATION ${levels} RENAME hollowtop-v${HOLLOWTOP_LEVEL}
          COMPONENT static EXCLUDE_FROM_ALL)
  if(HOLLOWTOP_LEVEL EQUAL 2)
    install(PROGRAMS $<TARGET_FILE:hollowtop_starter> DESTINATION ${CMAKE_INSTALL_BINDIR} RENAME hollowtop COMPONENT program)
    install(PROGRAMS $<TARGET_FILE:hollowtop_starter> DESTINATION ${CMAKE_INSTALL_BINDIR} RENAME hollowtop
            COMPONENT static EXCLUDE_FROM_ALL)
  endif()
else()
  install(TARGETS hollowtop COMPONENT program)
  install(PROGRAMS $<TARGET_FILE:hollowtop_static> DESTINATION ${CMAKE_INSTALL_BINDIR} RENAME hollowtop
          COMPONENT static EXCLUDE_FROM_ALL)
endif()

if(NOT HOLLOWTOP_LEVEL GREATER 2)
  # install_documents(COMPONENT [EXCLUDE_FROM_ALL])
  function(install_documents component)
    install(FILES ${pages}/hollowtop.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT ${component} ${ARGN})
    install(FILES ${pages}/hollowtop.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME hollowtop
            COMPONENT ${component} ${ARGN})
    install(FILES ${pages}/_hollowtop DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT ${component} ${ARGN})
    install(FILES ${pages}/hollowtop.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
            COMPONENT ${component} ${ARGN})
    install(FILES README.md CHANGELOG.md DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/hollowtop COMPONENT ${component} ${ARGN})
    install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/hollowtop RENAME copyright COMPONENT ${component} ${ARGN})
    install(DIRECTORY docs DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/hollowtop COMPONENT ${component} ${ARGN}
            PATTERN "*.py" EXCLUDE)
  endfunction()
  install_documents(program)
  install_documents(static EXCLUDE_FROM_ALL)

  set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/hollowtop)
  install(TARGETS hollowtop_materials hollowtop_solver EXPORT hollowtop_targets
          ARCHIVE COMPONENT development
          FILE_SET HEADERS DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/hollowtop COMPONENT development)
  install(EXPORT hollowtop_targets NAMESPACE hollowtop:: FILE hollowtop-targets.cmake DESTINATION ${package_dir}
          COMPONENT development)
  file(WRITE ${PROJECT_BINARY_DIR}/hollowtop-config.cmake
       "include(CMakeFindDependencyMacro)\nfind_dependency(Threads)\n\
include(\${CMAKE_CURRENT_LIST_DIR}/hollowtop-targets.cmake)\n")
  write_basic_package_version_file(${PROJECT_BINARY_DIR}/hollowtop-config-version.cmake COMPATIBILITY SameMinorVersion)
  install(FILES ${PROJECT_BINARY_DIR}/hollowtop-config.cmake ${PROJECT_BINARY_DIR}/hollowtop-config-version.cmake
          DESTINATION ${package_dir} COMPONENT development)
endif()

# Two Debian packages, hollowtop and hollowtop-dev. HOLLOWTOP_OTHER_LEVELS: build folders of the higher levels.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME hollowtop)
set(CPACK_PACKAGE_VENDOR "hollowtop")
set(CPACK_PACKAGE_CONTACT "the hollowtop project <hollowtop@localhost>")
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR}/packages)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME hollowtop)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
    "Reads a drawing of the top as a text file and says how far it sags, how hard it is\nstressed and which limit is met first.")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME hollowtop-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libc6-dev")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
    "The computing part as a C++ library: headers, static libraries and the CMake package\nhollowtop, for hollowtop::solver.")
set(CPACK_INSTALL_CMAKE_PROJECTS ${PROJECT_BINARY_DIR} hollowtop ALL /)
foreach(other IN LISTS HOLLOWTOP_OTHER_LEVELS)
  list(APPEND CPACK_INSTALL_CMAKE_PROJECTS ${other} hollowtop ALL /)
endforeach()
include(CPack)
