using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Indicators.Architecture.Tests;

/// <summary>What a compiled assembly names: read from its metadata, so that nothing has to be loaded or run.</summary>
public sealed class AssemblyNames : IDisposable
{
    private readonly PEReader _file;
    private readonly MetadataReader _metadata;

    public AssemblyNames(string path)
    {
        _file = new PEReader(File.OpenRead(path));
        _metadata = _file.GetMetadataReader();
    }

    /// <summary>Simple names of the assemblies it refers to.</summary>
    public IEnumerable<string> References =>
        _metadata.AssemblyReferences.Select(handle => _metadata.GetString(_metadata.GetAssemblyReference(handle).Name));

    /// <summary>Full names of the types of other assemblies that it names.</summary>
    public IEnumerable<string> Types => _metadata.TypeReferences.Select(handle => FullName(_metadata.GetTypeReference(handle)));

    /// <summary>Members of other assemblies' types that it names, as Type.Member.</summary>
    public IEnumerable<string> Members =>
        from handle in _metadata.MemberReferences
        let member = _metadata.GetMemberReference(handle)
        where member.Parent.Kind == HandleKind.TypeReference
        select $"{FullName(_metadata.GetTypeReference((TypeReferenceHandle)member.Parent))}.{_metadata.GetString(member.Name)}";

    /// <summary>Every string literal in its code.</summary>
    public IEnumerable<string> Literals
    {
        get
        {
            for (var handle = System.Reflection.Metadata.Ecma335.MetadataTokens.UserStringHandle(1); !handle.IsNil;
                handle = System.Reflection.Metadata.Ecma335.MetadataReaderExtensions.GetNextHandle(_metadata, handle))
                yield return _metadata.GetUserString(handle);
        }
    }

    private string FullName(TypeReference type)
    {
        string name = _metadata.GetString(type.Name);
        if (type.ResolutionScope.Kind == HandleKind.TypeReference)
            return $"{FullName(_metadata.GetTypeReference((TypeReferenceHandle)type.ResolutionScope))}.{name}";
        return type.Namespace.IsNil ? name : $"{_metadata.GetString(type.Namespace)}.{name}";
    }

    public void Dispose() => _file.Dispose();
}
