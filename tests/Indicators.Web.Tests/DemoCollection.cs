using Xunit;

namespace Indicators.Web.Tests;

/// <summary>Tests that read the demo share one, for making it takes long.</summary>
[CollectionDefinition]
public sealed class DemoCollection : ICollectionFixture<DemoApp>;
