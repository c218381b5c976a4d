using System.Runtime.InteropServices;
using Indicators.Cli;
using Indicators.Cli.Running;

// The first Ctrl-C (or a polite kill) asks the running verb to stop cleanly; a second one ends the program at once, which
// the database survives too.
using var stop = new CancellationTokenSource();
using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
using var terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
return await CommandLine.RunAsync(args, Surroundings.OfProcess(stop.Token));

void Stop(PosixSignalContext signal)
{
    signal.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
}
