import { CountType, LinkProperty, NodeProperty, Project, Workspace } from 'epanet-js';

/** EPANET's own answer to a network file, by id, in the file's units: the second opinion of these tests. */
export interface EngineAnswer {
  readonly head: ReadonlyMap<string, number>;
  readonly pressure: ReadonlyMap<string, number>;
  /** Demand and emitter flow together; a reservoir's is negative where it gives. */
  readonly outflow: ReadonlyMap<string, number>;
  readonly flow: ReadonlyMap<string, number>;
}

const workspace = new Workspace();
const loading = workspace.loadModule();

/** Solves a network file with EPANET. Throws where EPANET refuses the file. */
export async function askEngine(text: string): Promise<EngineAnswer> {
  await loading;
  const project = new Project(workspace);
  workspace.writeFile('network.inp', text);
  project.open('network.inp', 'report.rpt', 'out.bin');
  project.openH();
  project.initH(0);
  project.runH();
  const head = new Map<string, number>();
  const pressure = new Map<string, number>();
  const outflow = new Map<string, number>();
  const flow = new Map<string, number>();
  for (let i = 1; i <= project.getCount(CountType.NodeCount); i++) {
    const id = project.getNodeId(i);
    head.set(id, project.getNodeValue(i, NodeProperty.Head));
    pressure.set(id, project.getNodeValue(i, NodeProperty.Pressure));
    outflow.set(id, project.getNodeValue(i, NodeProperty.Demand));
  }
  for (let i = 1; i <= project.getCount(CountType.LinkCount); i++)
    flow.set(project.getLinkId(i), project.getLinkValue(i, LinkProperty.Flow));
  project.closeH();
  project.close();
  return { head, pressure, outflow, flow };
}
