@echo off
rem Opens Readback in a window of its own with large letters: put a shortcut to this
rem file on the desktop. A window takes its letters from the settings of its title.
reg add "HKCU\Console\Readback" /v FaceName /t REG_SZ /d "Consolas" /f >nul
reg add "HKCU\Console\Readback" /v FontSize /t REG_DWORD /d 0x00200000 /f >nul
reg add "HKCU\Console\Readback" /v WindowSize /t REG_DWORD /d 0x001e0064 /f >nul
start "Readback" conhost.exe "%~dp0readback.exe" %*
