using System.Xml.Linq;
using Microsoft.AspNetCore.DataProtection.Repositories;

namespace Indicators.Web.Serving;

/// <summary>
/// Holds the framework's protection keys in memory. No page has a form or a cookie, so nothing needs to outlive the
/// process, and nothing is written into anybody's home folder.
/// </summary>
internal sealed class KeysInMemory : IXmlRepository
{
    private readonly List<XElement> _keys = [];

    public IReadOnlyCollection<XElement> GetAllElements()
    {
        lock (_keys)
            return _keys.Select(key => new XElement(key)).ToList();
    }

    public void StoreElement(XElement element, string friendlyName)
    {
        lock (_keys)
            _keys.Add(new XElement(element));
    }
}
