@echo off
rem Windows counterpart of ./meltwise. Not run here until someone has.
setlocal
where dotnet >nul 2>nul || (echo meltwise: the .NET SDK 10 is not installed: https://dotnet.microsoft.com/download 1>&2 & exit /b 4)
set OUT=%~dp0artifacts\meltwise
if not exist "%OUT%\meltwise.dll" (
  dotnet publish "%~dp0src\Meltwise.Cli\Meltwise.Cli.csproj" -c Release -o "%OUT%" -v quiet --nologo 1>&2 || exit /b 4
)
dotnet "%OUT%\meltwise.dll" %*
