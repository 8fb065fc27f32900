Console.Error.WriteLine("There is nothing to measure yet.");
return 1;
