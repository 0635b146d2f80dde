# SPDX-License-Identifier: MIT
# `cmake --install` gives the library `hollowtop::solver` to other projects: find_package(hollowtop).
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/hollowtop)
install(TARGETS hollowtop_materials hollowtop_solver EXPORT hollowtop_targets
        FILE_SET HEADERS DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/hollowtop)
install(EXPORT hollowtop_targets NAMESPACE hollowtop:: FILE hollowtop-targets.cmake DESTINATION ${package_dir})
file(WRITE ${PROJECT_BINARY_DIR}/hollowtop-config.cmake
     "include(CMakeFindDependencyMacro)\nfind_dependency(Threads)\n\
include(\${CMAKE_CURRENT_LIST_DIR}/hollowtop-targets.cmake)\n")
write_basic_package_version_file(${PROJECT_BINARY_DIR}/hollowtop-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/hollowtop-config.cmake ${PROJECT_BINARY_DIR}/hollowtop-config-version.cmake
        DESTINATION ${package_dir})
