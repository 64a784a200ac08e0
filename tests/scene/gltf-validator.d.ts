declare module 'gltf-validator' {
  export function validateBytes(bytes: Uint8Array): Promise<{
    readonly issues: {
      readonly numErrors: number;
      readonly messages: readonly { readonly code: string; readonly severity: number; readonly pointer?: string }[];
    };
    readonly info: { readonly totalTriangleCount: number };
  }>;
}
