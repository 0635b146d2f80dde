# SPDX-License-Identifier: MIT
# How a room becomes a library, and how the texts of a folder are built into one.

# embed_texts(NAME FILES): the texts of FILES as rows of a C++ table, in build/generated/NAME; made again when one changes.
function(embed_texts name files)
  set(out ${PROJECT_BINARY_DIR}/generated/${name})
  string(REPLACE ";" "|" joined "${files}")
  add_custom_command(
    OUTPUT ${out}
    COMMAND ${CMAKE_COMMAND} "-DOUT=${out}" "-DFILES=${joined}" -P ${PROJECT_SOURCE_DIR}/cmake/embed_tables.cmake
    DEPENDS ${files} ${PROJECT_SOURCE_DIR}/cmake/embed_tables.cmake
    COMMENT "Building in ${name}" VERBATIM)
endfunction()

# add_room(NAME [USES ROOM] SOURCES GLOBS HEADERS GLOBS [RUN_ONCE SOURCES] [EMBEDDED FILE] [PRIVATE_LIBRARIES TARGETS]
#          [READ_ONCE HEADERS])
# RUN_ONCE: those of the sources that run once, or of which no time matters: compiled with -O1 in a release.
# READ_ONCE: heavy headers of libraries, precompiled for the sources of the room. A source still includes what it uses: the
# preset tidy precompiles nothing and would tell.
# Library hollowtop_NAME, alias hollowtop::NAME. While a room has no source it is an INTERFACE library. Sets
# hollowtop_NAME_link to PUBLIC or INTERFACE, whichever the target takes.
# With HOLLOWTOP_JOIN up to eight sources of a folder are compiled as one: in the unnamed namespaces of a folder no name stands
# twice. The commands, which all have their `run` and `options`, and `validation` stay alone.
function(add_room name)
  cmake_parse_arguments(room "" "USES;EMBEDDED" "SOURCES;HEADERS;RUN_ONCE;PRIVATE_LIBRARIES;READ_ONCE" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${room_SOURCES})
  file(GLOB headers CONFIGURE_DEPENDS ${room_HEADERS})
  list(REMOVE_ITEM sources ${PROJECT_SOURCE_DIR}/cli/main.cpp ${PROJECT_SOURCE_DIR}/cli/page/binding.cpp)
  leave_out(sources)
  leave_out(headers)
  set(target hollowtop_${name})
  if(sources)
    set(link PUBLIC)
    set(run_once ${room_RUN_ONCE})
    leave_out(run_once)
    set(targets ${target})
    if(run_once)
      list(REMOVE_ITEM sources ${run_once})
      add_library(${target}_once OBJECT ${run_once})
      target_compile_options(${target}_once PRIVATE $<$<CONFIG:Release>:-O1>)
      target_compile_features(${target}_once PRIVATE cxx_std_20)
      target_include_directories(${target}_once PRIVATE ${PROJECT_SOURCE_DIR})
      list(APPEND targets ${target}_once)
    endif()
    add_library(${target} STATIC ${sources})
    if(run_once)
      target_sources(${target} PRIVATE $<TARGET_OBJECTS:${target}_once>)
    endif()
    foreach(part IN LISTS targets)
      foreach(library IN LISTS room_PRIVATE_LIBRARIES)
        # Headers only, seen by our sources alone: whoever uses the installed library does not need them.
        target_link_libraries(${part} PRIVATE $<BUILD_INTERFACE:${library}>)
      endforeach()
      if(room_READ_ONCE)
        target_precompile_headers(${part} PRIVATE ${room_READ_ONCE})
        # GCC 12 takes a std::string that grows for an overrun of its small buffer once its header is precompiled.
        if(NOT CMAKE_DISABLE_PRECOMPILE_HEADERS)
          target_compile_options(${part} PRIVATE -Wno-array-bounds -Wno-stringop-overflow -Wno-restrict)
        endif()
      endif()
      if(HOLLOWTOP_JOIN)
        join_folders(${part})
      endif()
    endforeach()
    if(room_EMBEDDED)
      target_sources(${target} PRIVATE ${PROJECT_BINARY_DIR}/generated/${room_EMBEDDED})
      target_include_directories(${target} PRIVATE ${PROJECT_BINARY_DIR}/generated)
    endif()
  else()
    set(link INTERFACE)
    add_library(${target} INTERFACE)
  endif()
  add_library(hollowtop::${name} ALIAS ${target})
  set_target_properties(${target} PROPERTIES EXPORT_NAME ${name})
  target_sources(${target} ${link} FILE_SET HEADERS BASE_DIRS ${PROJECT_SOURCE_DIR} FILES ${headers})
  target_compile_features(${target} ${link} cxx_std_20)
  if(room_USES)
    target_link_libraries(${target} ${link} hollowtop_${room_USES})
  endif()
  set(hollowtop_${name}_link ${link} PARENT_SCOPE)
endfunction()

# join_folders(TARGET): compiles eight sources of a folder as one.
function(join_folders target)
  get_target_property(sources ${target} SOURCES)
  list(SORT sources)
  set(last "")
  foreach(source IN LISTS sources)
    get_filename_component(folder "${source}" DIRECTORY)
    if(NOT source MATCHES "\\.cpp$" OR folder MATCHES "/(cli/commands|validation)$")
      continue()
    endif()
    if(NOT folder STREQUAL last)
      set(last ${folder})
      set(count 0)
    endif()
    math(EXPR part "${count} / 8")
    math(EXPR count "${count} + 1")
    file(RELATIVE_PATH name ${PROJECT_SOURCE_DIR} ${folder})
    string(REPLACE "/" "_" name "${name}")
    set_source_files_properties(${source} PROPERTIES UNITY_GROUP ${target}_${name}_${part})
  endforeach()
  set_target_properties(${target} PROPERTIES UNITY_BUILD ON UNITY_BUILD_MODE GROUP)
  if(CMAKE_CXX_COMPILER_ID STREQUAL GNU)
    target_compile_options(${target} PRIVATE -Wno-subobject-linkage) # takes a joined source for a header
  endif()
endfunction()

# leave_out(LIST): drops what HOLLOWTOP_LEAVE_OUT names.
function(leave_out list)
  set(files ${${list}})
  if(HOLLOWTOP_LEAVE_OUT)
    list(FILTER files EXCLUDE REGEX "${HOLLOWTOP_LEAVE_OUT}")
  endif()
  set(${list} ${files} PARENT_SCOPE)
endfunction()
