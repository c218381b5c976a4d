using System.Text;
using System.Xml.Linq;
using QRCoder;

namespace Indicators.Web.Charts;

/// <summary>
/// An address as a QR code (ISO/IEC 18004), dark on light whatever the theme, with the quiet zone of four modules around it.
/// Error correction M, which bears about 15 % of damage: signs stand out in the weather.
/// </summary>
internal static class QrPicture
{
    public static XElement Draw(string text, string label)
    {
        using var generator = new QRCodeGenerator();
        using var code = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        // The matrix has its quiet zone already.
        int size = code.ModuleMatrix.Count;
        var path = new StringBuilder();
        for (int row = 0; row < size; row++)
        {
            for (int column = 0; column < size; column++)
            {
                if (code.ModuleMatrix[row][column])
                    path.Append(FormattableString.Invariant($"M{column} {row}h1v1h-1z"));
            }
        }
        var picture = Svg.Picture(size, size, "qr", label, Svg.Box("qr-ground", 0, 0, size, size), Svg.Path("qr-ink", path.ToString()));
        picture.SetAttributeValue("shape-rendering", "crispEdges");
        return picture;
    }
}
