# SPDX-License-Identifier: MIT
# The module of the page (cli/page): the rooms as they are, compiled to WebAssembly by emscripten. cli/page/build.sh configures
# with emscripten's toolchain and makes hollowtop_module.mjs and .wasm; HOLLOWTOP_JOIN halves the work.

# Headers of libraries stand beside those of the system, which are not the module's: each gets a folder that holds it alone.
set(headers ${PROJECT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(library IN ITEMS "Eigen3::Eigen|eigen3/Eigen" "nlohmann_json::nlohmann_json|nlohmann" "CLI11::CLI11|CLI")
  string(REGEX REPLACE "\\|.*" "" target "${library}")
  string(REGEX REPLACE ".*\\|" "" folder "${library}")
  find_path(page_headers_${target} ${folder} NO_CMAKE_FIND_ROOT_PATH PATHS /usr/include /usr/local/include REQUIRED)
  get_filename_component(name ${folder} NAME)
  file(CREATE_LINK ${page_headers_${target}}/${folder} ${headers}/${name} SYMBOLIC)
  add_library(${target} INTERFACE IMPORTED)
  target_include_directories(${target} SYSTEM INTERFACE ${headers})
endforeach()
if(NOT EXISTS ${headers}/mmintrin.h) # written anew it would make all be compiled anew
  file(WRITE ${headers}/mmintrin.h "") # asked for by the matrix library, which then needs nothing of it
endif()
add_library(Threads::Threads INTERFACE IMPORTED) # there is one thread

# Exceptions as the browser's own; vectors of 128 bits, in which the matrix library works as on every x86-64. There is no fused
# multiply-add, so none of a sum: digits are those of a program built without HOLLOWTOP_NATIVE.
set(page_options -fwasm-exceptions -msimd128 -msse2)
add_compile_options(${page_options} "SHELL:-include ${PROJECT_SOURCE_DIR}/cli/page/stand_ins.hpp" -I${PROJECT_SOURCE_DIR}
                    -Wno-shadow -Wno-sign-conversion) # joined sources are watched when compiled alone; of the second g++ is silent too
add_link_options(${page_options})

# add_page_module(): the module, from binding.cpp, once the rooms are there.
function(add_page_module)
  add_executable(hollowtop_module cli/page/binding.cpp)
  target_link_libraries(hollowtop_module PRIVATE hollowtop_cli)
  set_target_properties(hollowtop_module PROPERTIES SUFFIX .mjs)
  target_link_options(hollowtop_module PRIVATE
    -O2 -sMODULARIZE=1 -sEXPORT_ES6=1 -sUSE_ES6_IMPORT_META=0 -sENVIRONMENT=worker -sFILESYSTEM=1 -sFORCE_FILESYSTEM=1
    -sALLOW_MEMORY_GROWTH=1 -sINITIAL_MEMORY=32MB -sMAXIMUM_MEMORY=2GB -sTOTAL_STACK=8MB -sABORTING_MALLOC=0
    -sEXPORTED_FUNCTIONS=_hollowtop_run,_hollowtop_version,_hollowtop_memory,_malloc,_free -sEXPORTED_RUNTIME_METHODS=FS,setValue,UTF8ToString,stringToUTF8,lengthBytesUTF8
    -sINCOMING_MODULE_JS_API=instantiateWasm,stdin,stdout,stderr,print,printErr --no-entry)
endfunction()
